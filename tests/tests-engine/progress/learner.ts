import type { HeardNote, HeardTake } from '../../../src/notes.ts';
import type { PracticeTest } from '../../../src/score.ts';
import {
  markTest,
  partsOfNotes,
  PITCH_PARTS,
  targetOf,
  TIME_PARTS,
} from '../../../src/tests-engine/index.ts';
import type { Mark, PartId } from '../../../src/tests-engine/index.ts';
import { cents, db, midi, sec } from '../../../src/units.ts';

/**
 * A simulated student, made unlike the model that estimates them. Each part has a strength in logits:
 *  - own + shared: parts of a family (all leaps, all divisions of the beat, …) have a common share;
 *  - what only higher levels bring (triplets, semiquavers, wide leaps, compound and odd metres, …) is not
 *    learnt yet: it starts 1.5 under the rest (or as `notYet` says);
 *  - a note comes off by its weakest part more than by the sum: logit = 0.6·weakest + 0.4·mean;
 *  - a long phrase is harder to hold: every note past the sixth costs 0.08 on all of them;
 *  - strengths grow with use, more the further from the ceiling, a quarter as much when the note failed; who
 *    got lost learns little (half the gain when 3 of 4 notes came off, a tenth when 3 of 5 did), and attention is limited
 *    (a phrase of more than eight notes teaches no more than one of eight); a quarter of the gain spreads
 *    over the family;
 *  - they are forgotten exponentially with days without use, at a rate of the student's own;
 *  - days differ (s.d. 0.4), and one day in ten is an off day (−1.2);
 *  - time has a lag of the student's own and s.d. 15 ms, as a good player's.
 */
export interface Learner {
  readonly planted: PartId;
  /** Present strength of a part on a usual day, logits. */
  readonly strength: (part: PartId) => number;
  readonly newDay: (days: number) => void;
  /** Plays and learns; the notes as a listener would hear them, time 0 = beat 1 of bar 1. */
  readonly take: (test: PracticeTest) => HeardTake;
  /** The same, marked by the real marker. */
  readonly play: (test: PracticeTest) => Mark;
  /** True chance that a note comes off on a usual day, pitch and time together, mean over the notes. */
  readonly ability: (test: PracticeTest) => number;
}

const FAMILIES: readonly (readonly PartId[])[] = [
  ['step-up', 'step-down', 'repeat'],
  ['third-up', 'third-down'],
  ['fourth-up', 'fourth-down', 'fifth-up', 'fifth-down', 'wide-up', 'wide-down', 'turn'],
  ['degree-1', 'degree-3', 'degree-5'],
  ['degree-2', 'degree-4', 'degree-6', 'degree-7', 'chromatic'],
  ['opening', 'ending'],
  ['on-beat', 'crotchet-gap', 'first-bar', 'later-bars'],
  ['off-beat', 'quaver-gap', 'after-rest', 'after-dot', 'over-beat'],
  ['quarter-beat', 'short-gap', 'triplet'],
  ['slow', 'medium', 'fast'],
  ['compound', 'odd-metre'],
];

const NOT_YET: readonly PartId[] = [
  ...(['quarter-beat', 'short-gap', 'triplet', 'over-beat', 'compound', 'odd-metre', 'chromatic'] as const),
  ...(['fifth-up', 'fifth-down', 'wide-up', 'wide-down', 'degree-6'] as const),
];

/** A small seeded source (Tommy Ettinger's mulberry32) and a normal deviate from it (Box & Muller 1958). */
export function source(seed: number) {
  let state = seed >>> 0;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return { uniform, normal };
}

const logistic = (x: number) => 1 / (1 + Math.exp(-x));

export interface LearnerOptions {
  readonly seed: number;
  /** One of these is made the weakest, 3.5 logits under the others; three more lie 1.2 under. */
  readonly mayBeWeak: readonly PartId[];
  /** Usual strength, logits; 3 = 95 of 100 notes. */
  readonly base?: number;
  /** Gain a note at strength 0; 0 = learns nothing. */
  readonly rate?: number;
  /** How far what only higher levels bring lies under the rest at the start, logits. */
  readonly notYet?: number;
}

export function learner({ seed, mayBeWeak, base = 3, rate = 0.03, notYet = 1.5 }: LearnerOptions): Learner {
  const { uniform, normal } = source(seed);
  const all: readonly PartId[] = [...PITCH_PARTS, ...TIME_PARTS];
  const strengths = new Map<PartId, number>();
  for (const family of FAMILIES) {
    const shared = 0.35 * normal();
    for (const part of family) {
      const start = NOT_YET.includes(part) ? base - notYet : base;
      strengths.set(part, start + shared + 0.35 * normal());
    }
  }
  const weak = [...mayBeWeak].map((part) => ({ part, at: uniform() })).sort((a, b) => a.at - b.at);
  weak.slice(0, 4).forEach(({ part }, i) => strengths.set(part, base - (i === 0 ? 3.5 : 1.2)));
  const idle = new Map<PartId, number>(all.map((part) => [part, 0]));
  const forgetting = 0.01 + 0.03 * uniform();
  const lag = 0.02 * normal();
  const ceiling = base + 1.5;
  const floor = new Map(all.map((part) => [part, strengths.get(part)! - 1]));
  let today = 0;

  const strength = (part: PartId): number => strengths.get(part)!;
  const chance = (parts: readonly PartId[], shift: number): number => {
    if (parts.length === 0) return 1;
    const values = parts.map(strength);
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    return logistic(0.6 * Math.min(...values) + 0.4 * mean + shift);
  };
  const span = (notes: number): number => -0.08 * Math.max(0, notes - 6);
  const practise = (parts: readonly PartId[], right: boolean, share: number): void => {
    for (const part of parts) {
      const gain = (x: PartId) =>
        rate * (right ? 1 : 0.25) * share * Math.max(0, (ceiling - strength(x)) / ceiling);
      strengths.set(part, strength(part) + gain(part));
      idle.set(part, 0);
      const family = FAMILIES.find((one) => one.includes(part))!;
      for (const other of family)
        if (other !== part) strengths.set(other, strength(other) + gain(other) / 4 / family.length);
    }
  };

  const perform = (test: PracticeTest): HeardTake => {
    const due = targetOf(test.phrase, test.tempoBpm, test.swing);
    const parts = partsOfNotes(test);
    const notes: HeardNote[] = [];
    const shift = today + span(due.length);
    const came = parts.map(({ pitch, time }) => ({
      found: uniform() < chance(pitch, shift),
      inTime: uniform() < chance(time, shift),
    }));
    const cameOff = came.filter(({ found, inTime }) => found && inTime).length / came.length;
    const followed = logistic((cameOff - 0.75) / 0.07);
    const share = followed * Math.min(1, 8 / came.length);
    due.forEach(({ onsetSec, durationSec = 0.3 }, i) => {
      const { pitch, time } = parts[i]!;
      const { found, inTime } = came[i]!;
      practise(pitch, found, share);
      practise(time, inTime, share);
      if ((!found || !inTime) && uniform() < 0.2) return; // left out
      const off = inTime ? 0 : (uniform() < 0.5 ? -1 : 1) * (0.1 + 0.08 * uniform());
      const away = found ? 0 : (uniform() < 0.5 ? -1 : 1) * (1 + Math.floor(3 * uniform()));
      const at = onsetSec + lag + off + 0.015 * normal();
      notes.push({
        onsetSec: sec(at),
        offsetSec: sec(at + durationSec),
        midi: midi(test.phrase.notes[i]!.midi + away),
        cents: cents(0),
        levelDb: db(-20),
        confidence: 0.98,
      });
    });
    notes.sort((a, b) => a.onsetSec - b.onsetSec);
    return { notes, tuningCents: cents(0), heard: { verdict: 'ok', reason: null } };
  };

  return {
    planted: weak[0]!.part,
    take: perform,
    strength,
    newDay: (days) => {
      today = 0.4 * normal() - (uniform() < 0.1 ? 1.2 : 0);
      for (const part of all) {
        idle.set(part, idle.get(part)! + days);
        if (idle.get(part)! <= 1) continue;
        const low = floor.get(part)!;
        strengths.set(part, low + (strength(part) - low) * Math.exp(-forgetting * days));
      }
    },
    play: (test) => markTest(test, perform(test), { zeroSec: 0, latencyUncertaintyMs: 5 }),
    ability: (test) => {
      const parts = partsOfNotes(test);
      const shift = span(parts.length);
      return parts.reduce((sum, p) => sum + chance(p.pitch, shift) * chance(p.time, shift), 0) / parts.length;
    },
  };
}
