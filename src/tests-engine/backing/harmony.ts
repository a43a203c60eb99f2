import type { PracticeTest } from '../../music/score.ts';
import { barTicks, feltBeats } from '../../music/metre.ts';
import { candidates, type Candidate, type Chord } from './candidates.ts';
import { keyClasses } from './scale.ts';
import type { Style } from './style.ts';

/** A chord and the stretch of the phrase over which it stands. */
export interface Harmony {
  readonly chord: Chord;
  readonly fromTicks: number;
  readonly toTicks: number;
}

/** Two pitch classes a minor second (or major seventh, minor ninth) apart. */
export const rubs = (a: number, b: number): boolean => {
  const apart = (((a - b) % 12) + 12) % 12;
  return apart === 1 || apart === 11;
};

interface Sung {
  readonly pc: number;
  readonly weight: number;
}

/** Costs, in units of "one everyday chord rather than the tonic" = about 0.4. Chosen by ear and by the clash count. */
const COST = {
  lostThird: 1.2,
  lostFifth: 0.8,
  lostSeventh: 0.1,
  /** Root gone: the chord is no longer itself. */
  lostRoot: 9,
  /** Times the share of the phrase's weight that no chord tone supports. */
  unsupported: 3,
  notTonicAtStart: 2.5,
  notTonicAtEnd: 2,
  offTheTurn: 0.8,
  standingStill: 0.4,
};

function sungIn(test: PracticeTest, from: number, to: number): readonly Sung[] {
  const { metre, notes } = test.phrase;
  const bar = barTicks(metre);
  const felt = new Set(feltBeats(metre));
  return notes
    .filter((n) => n.startTicks < to && n.startTicks + n.durationTicks > from)
    .map((n) => {
      const inBar = n.startTicks % bar;
      const stress = inBar === 0 ? 2 : felt.has(inBar) ? 1.5 : 1;
      return { pc: n.midi % 12, weight: stress * n.durationTicks };
    });
}

/** Takes out of a candidate every tone that rubs against a note sounding over it. */
function fitted(candidate: Candidate, tonic: number, sung: readonly Sung[]): { chord: Chord; cost: number } {
  const root = (tonic + candidate.above) % 12;
  let cost = candidate.strangeness;
  const tones: number[] = [];
  candidate.intervals.forEach((interval, i) => {
    const pc = (root + interval) % 12;
    if (!sung.some((s) => rubs(s.pc, pc))) tones.push(pc);
    else
      cost += [
        COST.lostRoot,
        candidate.intervals.length > 2 ? COST.lostThird : COST.lostFifth,
        COST.lostFifth,
        COST.lostSeventh,
      ][i]!;
  });
  const total = sung.reduce((sum, s) => sum + s.weight, 0);
  const whole = candidate.intervals.map((i) => (root + i) % 12);
  const supported = sung.filter((s) => whole.includes(s.pc)).reduce((sum, s) => sum + s.weight, 0);
  if (total > 0) cost += COST.unsupported * (1 - supported / total);
  return { chord: { root, tones }, cost };
}

interface Segment {
  readonly from: number;
  readonly to: number;
  readonly bar: number;
}

/** Whole bars; a bar over which no chord keeps its root is split at its felt beats. */
function segments(test: PracticeTest, options: readonly Candidate[], tonic: number): readonly Segment[] {
  const length = barTicks(test.phrase.metre);
  return Array.from({ length: test.phrase.bars }, (_, bar) => {
    const from = bar * length;
    const sung = sungIn(test, from, from + length);
    const best = Math.min(...options.map((o) => fitted(o, tonic, sung).cost));
    if (best < COST.lostThird + COST.unsupported + 1) return [{ from, to: from + length, bar }];
    const beats = feltBeats(test.phrase.metre);
    return beats.map((beat, i) => ({ from: from + beat, to: from + (beats[i + 1] ?? length), bar }));
  }).flat();
}

/**
 * Chords for a phrase, chosen from the phrase: for each bar the cheapest way (dynamic programming) through
 * the chords of its key, by what they support of the melody, what they would rub against, the style's usual
 * turn, and home at both ends. No sounding tone is a semitone from a note that is played over it.
 */
export function harmonise(test: PracticeTest, style: Style): readonly Harmony[] {
  const key = keyClasses(test.key);
  const options = candidates(key, style.sevenths);
  const turn = style.turns[key.mode];
  const parts = segments(test, options, key.tonic);
  const last = parts.length - 1;
  let paths: { cost: number; above: number; chords: readonly Chord[] }[] = [
    { cost: 0, above: -1, chords: [] },
  ];
  parts.forEach((part, i) => {
    const sung = sungIn(test, part.from, part.to);
    paths = options.map((option) => {
      const { chord, cost } = fitted(option, key.tonic, sung);
      const place =
        (i === 0 && option.above !== 0 ? COST.notTonicAtStart : 0) +
        (i === last && last > 0 && option.above !== 0 ? COST.notTonicAtEnd : 0) +
        (i < last && turn[part.bar % turn.length] !== option.above ? COST.offTheTurn : 0);
      let best = paths[0]!;
      let bestCost = Infinity;
      for (const path of paths) {
        const total = path.cost + (path.above === option.above ? COST.standingStill : 0);
        if (total < bestCost) [best, bestCost] = [path, total];
      }
      return { cost: bestCost + cost + place, above: option.above, chords: [...best.chords, chord] };
    });
  });
  const best = paths.reduce((a, b) => (b.cost < a.cost ? b : a));
  return parts.map((part, i) => ({ chord: best.chords[i]!, fromTicks: part.from, toTicks: part.to }));
}
