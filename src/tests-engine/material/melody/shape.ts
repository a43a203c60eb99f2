import type { Random } from '../random/random.ts';
import type { LevelParameters } from '../levels/types.ts';
import { type SpelledScale, ladder, spelledScale } from '../theory/scale.ts';
import type { Layout } from '../hand/position.ts';
import { stringOf } from '../hand/placing.ts';
import { LineSearch, type Steps, stepsOf } from './line.ts';
import type { RhythmPlan } from './plan.ts';

/** Semitones above the tonic of the tonic chord's degrees in this scale; a degree the scale lacks is left out. */
function chordSteps(scale: SpelledScale): Record<1 | 3 | 5, number> {
  return { 1: 0, 3: scale.steps.includes(4) ? 4 : 3, 5: 7 };
}

/**
 * What makes each scale that scale and no other of the ladder, semitones above the tonic: the lowered fifth of the
 * blues, the raised seventh of harmonic minor, Dorian's sixth, Mixolydian's seventh, natural minor's sixth, the
 * major scale's seventh, the pentatonics' third. As theory texts tell the modes apart; common practice.
 */
export const COLOUR: Readonly<Record<string, readonly number[]>> = {
  blues: [6],
  'harmonic minor': [11],
  dorian: [9],
  mixolydian: [10],
  minor: [8],
  major: [11],
  'minor pentatonic': [3],
  'major pentatonic': [4],
  lydian: [6],
  phrygian: [1],
  locrian: [6],
  'melodic minor': [11],
};

/** Searches before a melody is given up. 200,000 tests of the ladder never needed 200 (tests/tests-engine/material). */
const ATTEMPTS = 400;
/** Searches in which the line has to have its colour; then any line will do (few notes in a narrow range). */
const COLOURED_ATTEMPTS = 300;
/** So much likelier is a colour note than another of the same distance, so that most searches find one. */
const COLOUR_WEIGHT = 3;

const colouredSteps = new WeakMap<Steps, Steps>();
function coloured(steps: Steps, colour: number, count: number): Steps {
  let found = colouredSteps.get(steps);
  if (!found) {
    const more = (weights: readonly number[]): number[] =>
      weights.map((weight, i) => (colour & (1 << (i % count)) ? weight * COLOUR_WEIGHT : weight));
    found = { ...steps, weak: more(steps.weak), strong: more(steps.strong) };
    colouredSteps.set(steps, found);
  }
  return found;
}

/** Quaver at 480 to the crotchet: what follows within it is quick. */
const QUICK_TICKS = 240;

/** The notes a level may use of a scale within a range. */
interface Rungs {
  /** Semitones from the tonic, rising. */
  readonly offsets: readonly number[];
  /** Rungs that a line may begin and end on: the top one is the climax's. */
  readonly firsts: readonly number[];
  readonly lasts: readonly number[];
  /** The set of rungs that make the scale what it is, as bits; 0 where none does. */
  readonly colour: number;
  /** What may follow what under a hand; null while none is placed. */
  readonly steps: (hand: Layout | null) => Steps;
}

/** The search holds sets of rungs in 32 bits: more of a chromatic scale than a hand of four frets reaches on seven strings. */
const MOST_RUNGS = 32;

const cache = new WeakMap<LevelParameters, Map<string, Rungs>>();

/** Rungs of a level in a scale and range (semitones from the tonic), worked out once. */
export function rungsOf(level: LevelParameters, scale: string, range: readonly [number, number]): Rungs {
  let known = cache.get(level);
  if (!known) cache.set(level, (known = new Map<string, Rungs>()));
  const name = `${scale} ${range[0]} ${range[1]}`;
  const found = known.get(name);
  if (found) return found;
  const spelled = spelledScale({ tonic: 'C', scale });
  const offsets = ladder(spelled, range[0], range[1]).slice(0, MOST_RUNGS);
  const steps = chordSteps(spelled);
  const pc = (offset: number): number => ((offset % 12) + 12) % 12;
  const onDegree = (degrees: readonly (1 | 3 | 5)[]): number[] =>
    offsets.flatMap((offset, i) =>
      i < offsets.length - 1 && degrees.some((d) => steps[d] === pc(offset)) ? [i] : [],
    );
  const chordPcs = [steps[1], steps[3], steps[5]];
  const chord = offsets.map((offset) => chordPcs.includes(pc(offset)));
  const unplaced = stepsOf(
    offsets,
    offsets.map(() => 1),
    chord,
    level,
  );
  const placed = new WeakMap<Layout, Steps>();
  const rungs: Rungs = {
    offsets,
    steps: (hand) => {
      if (!hand) return unplaced;
      let found = placed.get(hand);
      if (!found) {
        const strings = offsets.map((offset) => stringOf(hand, offset));
        placed.set(hand, (found = stepsOf(offsets, strings, chord, level)));
      }
      return found;
    },
    colour: offsets.reduce(
      (set, offset, i) => (COLOUR[scale]?.includes(pc(offset)) ? set | (1 << i) : set),
      0,
    ),
    firsts: onDegree(level.firstDegrees),
    lasts: onDegree(level.lastDegrees),
  };
  known.set(name, rungs);
  return rungs;
}

/**
 * Pitches for a rhythm, in semitones from the tonic: draws first note, last note, the place and height of the
 * climax and how each answer relates to the opening (the same way or mirrored) until a line exists.
 * @param hand null while none is placed. @param showsColour whether the line has to have a note of {@link COLOUR}.
 * @throws RangeError when no line is found: the level's limits contradict each other.
 */
export function shapeLine(
  level: LevelParameters,
  { offsets: rungs, steps, firsts, lasts, colour }: Rungs,
  hand: Layout | null,
  plan: RhythmPlan,
  bars: number,
  random: Random,
  showsColour: boolean,
): number[] {
  const count = plan.onsets.length;
  const top = rungs.length - 1;
  const wanted = showsColour ? colour : 0;
  const frame = {
    rungs,
    steps: wanted === 0 ? steps(hand) : coloured(steps(hand), wanted, rungs.length),
    count,
    strong: plan.strong,
    quick: plan.onsets.map((onset, i) => i > 0 && onset - plan.onsets[i - 1]! <= QUICK_TICKS),
    colour: wanted,
    maxLeaps: Math.max(1, Math.round(level.leapsPerBar * bars)),
  };
  let search = new LineSearch(frame, random);
  const mirror = new Array<number>(count).fill(0);
  const mirrorSign = new Array<number>(count).fill(1);
  if (firsts.length > 0 && lasts.length > 0)
    for (let attempt = 0; attempt < ATTEMPTS; attempt++) {
      if (wanted !== 0 && attempt === COLOURED_ATTEMPTS)
        search = new LineSearch({ ...frame, colour: 0 }, random);
      const first = random.pick(firsts);
      const last = random.pick(lasts);
      const floor = Math.max(first, last) + 1;
      const climax = floor + random.below(top - floor + 1);
      // From a third of the way on: a shape rises to its height and comes down again.
      const earliest = Math.max(1, Math.floor(count / 3));
      const climaxAt = earliest + random.below(Math.max(1, count - 1 - earliest));
      for (const answer of plan.answers) {
        const sign = random.chance(1, 3) ? -1 : 1;
        for (let k = 1; k < plan.opening && answer + k < count; k++) {
          mirror[answer + k] = k;
          mirrorSign[answer + k] = sign;
        }
      }
      const line = search.find({ first, last, climax, climaxAt, mirror, mirrorSign });
      if (line) return line.map((rung) => rungs[rung]!);
    }
  throw new RangeError(
    `level "${level.name}" finds no melody with these limits; allow larger leaps, a wider range or other first and last notes`,
  );
}
