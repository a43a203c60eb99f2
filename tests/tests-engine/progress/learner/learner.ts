import type { HeardNote, HeardTake } from '../../../../src/music/notes.ts';
import type { PracticeTest } from '../../../../src/music/score.ts';
import {
  markTask,
  partsOfNotes,
  PITCH_PARTS,
  targetOf,
  TIME_PARTS,
} from '../../../../src/tests-engine/index.ts';
import type { Mark, PartId } from '../../../../src/tests-engine/index.ts';
import { atMostWrong } from '../../../../src/tests-engine/progress/predict.ts';
import { cents, db, midi, sec } from '../../../../src/music/units.ts';
import { CREDITS } from './credit.ts';
import type { Credit } from './credit.ts';
import { FAMILIES, familyOf, NOT_YET } from './families.ts';
import { source } from './source.ts';

/**
 * A simulated student, made unlike the model that estimates them. Each part has a strength in logits.
 * Playing:
 *  - a note comes off by its weakest part more than by the sum: logit = 0.6·weakest + 0.4·mean;
 *  - a long phrase is harder to hold: every note past the sixth costs 0.08 on all of them;
 *  - days differ (s.d. 0.4), and one day in ten is an off day (−1.2);
 *  - time has a lag of the student's own and s.d. 15 ms, as a good player's.
 * Learning:
 *  - a note raises each of its parts by rate · credit · what is left to the ceiling, base + 1.5 (exponential
 *    law of practice: Heathcote, Brown & Mewhort 2000), or by rate · credit / notes practised (power law:
 *    Newell & Rosenbloom 1981 (from memory)); the credit is one of {@link CREDITS};
 *  - attention is limited: a phrase of more than eight notes teaches no more than one of eight (7 ± 2, Miller
 *    1956 (from memory)), unless the credit is `exposure`;
 *  - a quarter of the gain spreads over the family (identical elements: Thorndike & Woodworth 1901 (from memory)).
 * Forgetting: what was gained halves in a half-life (exponential), which grows by half with each day on which
 * the part came off (half-life regression's idea: Settles & Meeder 2016), from `halfLifeDays` up to 200 days
 * (half of what practice gained in accuracy of motor skills is gone after 6.5 months: Tatel & Ackerman 2025).
 */
export interface Learner {
  readonly planted: PartId;
  /** Present strength of a part on a usual day, logits. */
  readonly strength: (part: PartId) => number;
  readonly newDay: (days: number) => void;
  /** Plays and learns: which written notes came off. */
  readonly answer: (test: PracticeTest) => Answer[];
  /** Plays and learns; the notes as a listener would hear them, time 0 = beat 1 of bar 1. */
  readonly take: (test: PracticeTest) => HeardTake;
  /** The same, marked by the real marker. */
  readonly play: (test: PracticeTest) => Mark;
  /** True chance that a note comes off on a usual day, pitch and time together, mean over the notes. */
  readonly ability: (test: PracticeTest) => number;
  /** True chance that at most 15 notes of 100 go wrong on a usual day. */
  readonly thereChance: (test: PracticeTest) => number;
}
export interface Answer {
  readonly found: boolean;
  readonly inTime: boolean;
}

export interface LearnerOptions {
  readonly seed: number;
  /** One of these is made the weakest, 3.5 logits under the others; three more lie 1.2 under. */
  readonly mayBeWeak: readonly PartId[];
  /** `flat`: nothing is made weak; parts differ by chance (s.d. 0.5) and by what is not learnt yet. */
  readonly profile?: 'spiky' | 'flat';
  /** Usual strength, logits; 3 = 95 of 100 notes. */
  readonly base?: number;
  /** Gain a note at strength 0; 0 = learns nothing. */
  readonly rate?: number;
  /** How far what only higher levels bring lies under the rest at the start, logits. */
  readonly notYet?: number;
  readonly credit?: Credit;
  readonly law?: 'exponential' | 'power';
  /** Days in which what was gained halves at first; Infinity: nothing is forgotten. */
  readonly halfLifeDays?: number;
  readonly offDays?: boolean;
}

const logistic = (x: number) => 1 / (1 + Math.exp(-x));
/** The notes a part that is known has been practised with before, under the power law. */
const PRACTISED_BEFORE = 60;
const LONGEST_HALF_LIFE = 200;

export function learner(options: LearnerOptions): Learner {
  const { seed, mayBeWeak, profile = 'spiky', base = 3, rate = 0.03, notYet = 1.5 } = options;
  const { credit = 'mostly success', law = 'exponential', halfLifeDays = 10, offDays = true } = options;
  const { uniform, normal } = source(seed);
  const all: readonly PartId[] = [...PITCH_PARTS, ...TIME_PARTS];
  const start = new Map<PartId, number>();
  for (const family of FAMILIES) {
    const shared = 0.35 * normal();
    for (const part of family)
      start.set(part, base - (NOT_YET.includes(part) ? notYet : 0) + shared + 0.35 * normal());
  }
  const weak = [...mayBeWeak].map((part) => ({ part, at: uniform() })).sort((a, b) => a.at - b.at);
  if (profile === 'spiky')
    weak.slice(0, 4).forEach(({ part }, i) => start.set(part, base - (i === 0 ? 3.5 : 1.2)));
  const lag = 0.02 * normal();
  const ceiling = base + 1.5;
  const gained = new Map<PartId, number>(all.map((part) => [part, 0]));
  const halfLife = new Map<PartId, number>(all.map((part) => [part, halfLifeDays]));
  const practised = new Map<PartId, number>(
    all.map((part) => [part, start.get(part)! > base - 1 ? PRACTISED_BEFORE : 0]),
  );
  const cameOffToday = new Set<PartId>();
  let today = 0;

  const strength = (part: PartId): number => start.get(part)! + gained.get(part)!;
  const chance = (parts: readonly PartId[], shift: number): number => {
    if (parts.length === 0) return 1;
    let [sum, least] = [0, Infinity];
    for (const part of parts) {
      const value = strength(part);
      sum += value;
      least = Math.min(least, value);
    }
    return logistic(0.6 * least + (0.4 * sum) / parts.length + shift);
  };
  const span = (notes: number): number => -0.08 * Math.max(0, notes - 6);
  const left = (part: PartId): number =>
    law === 'exponential'
      ? Math.max(0, ceiling - strength(part)) / ceiling
      : strength(part) > ceiling + 1
        ? 0
        : 15 / (15 + practised.get(part)!);
  const practise = (parts: readonly PartId[], share: number): void => {
    for (const part of parts) {
      gained.set(part, gained.get(part)! + rate * share * left(part));
      practised.set(part, practised.get(part)! + 1);
      const family = familyOf(part);
      for (const other of family)
        if (other !== part)
          gained.set(other, gained.get(other)! + (rate * share * left(other)) / 4 / family.length);
    }
  };
  const wholeChance = (test: PracticeTest, day: number): number => {
    const parts = partsOfNotes(test);
    const shift = day + span(parts.length);
    const upTo = atMostWrong(parts.map((p) => 1 - chance(p.pitch, shift) * chance(p.time, shift)));
    const allowed = 0.15 * parts.length;
    const whole = Math.floor(allowed);
    return upTo[whole]! + (allowed - whole) * (upTo[whole + 1]! - upTo[whole]!);
  };

  const answer = (test: PracticeTest): Answer[] => {
    const parts = partsOfNotes(test);
    const shift = today + span(parts.length);
    const chances = parts.map(({ pitch, time }) => ({
      pitch: chance(pitch, shift),
      time: chance(time, shift),
    }));
    const came = chances.map(({ pitch, time }) => ({ found: uniform() < pitch, inTime: uniform() < time }));
    const cameOff = came.filter(({ found, inTime }) => found && inTime).length / came.length;
    const thereChance = credit === 'four tests in five' ? wholeChance(test, today) : 0;
    const attention = credit === 'exposure' ? 1 : Math.min(1, 8 / came.length);
    came.forEach(({ found, inTime }, i) => {
      const { pitch, time } = parts[i]!;
      const teaches = (p: number, right: boolean) =>
        attention * CREDITS[credit]({ chance: p, right, cameOff, thereChance });
      practise(pitch, teaches(chances[i]!.pitch, found));
      practise(time, teaches(chances[i]!.time, inTime));
      if (found) pitch.forEach((part) => cameOffToday.add(part));
      if (inTime) time.forEach((part) => cameOffToday.add(part));
    });
    return came;
  };

  const perform = (test: PracticeTest): HeardTake => {
    const due = targetOf(test.phrase, test);
    const came = answer(test);
    const notes: HeardNote[] = [];
    due.forEach(({ onsetSec, durationSec = 0.3 }, i) => {
      const { found, inTime } = came[i]!;
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
    answer,
    take: perform,
    strength,
    newDay: (days) => {
      today = offDays ? 0.4 * normal() - (uniform() < 0.1 ? 1.2 : 0) : 0;
      for (const part of all) {
        const lasts = halfLife.get(part)!;
        gained.set(part, gained.get(part)! * 2 ** (-days / lasts));
        if (days > 0 && cameOffToday.has(part))
          halfLife.set(part, Math.max(lasts, Math.min(LONGEST_HALF_LIFE, 1.5 * lasts)));
      }
      if (days > 0) cameOffToday.clear();
    },
    play: (test) => markTask(test, perform(test), { latencyUncertaintyMs: 5 }),
    ability: (test) => {
      const parts = partsOfNotes(test);
      const shift = span(parts.length);
      return parts.reduce((sum, p) => sum + chance(p.pitch, shift) * chance(p.time, shift), 0) / parts.length;
    },
    thereChance: (test) => wholeChance(test, 0),
  };
}
