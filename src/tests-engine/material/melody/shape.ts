import { type Random } from '../random/random.ts';
import type { LevelParameters } from '../levels/types.ts';
import type { SpelledScale } from '../theory/scale.ts';
import { type LineTask, findLine } from './line.ts';
import type { RhythmPlan } from './plan.ts';

/** Semitones above the tonic of the tonic chord's degrees in this scale; a degree the scale lacks is left out. */
function chordSteps(scale: SpelledScale): Record<1 | 3 | 5, number> {
  return { 1: 0, 3: scale.steps.includes(4) ? 4 : 3, 5: 7 };
}

/** Searches before a melody is given up. 200,000 tests of the ladder never needed 200 (tests/tests-engine/material). */
const ATTEMPTS = 400;
/** Quaver at 480 to the crotchet: what follows within it is quick. */
const QUICK_TICKS = 240;

/**
 * Pitches for a rhythm, in semitones from the tonic: draws first note, last note, the place and height of the
 * climax and how each answer relates to the opening (the same way or mirrored) until a line exists.
 * @param strings string of each rung; all the same while the hand is not yet placed.
 * @throws RangeError when no line is found: the level's limits contradict each other.
 */
export function shapeLine(
  level: LevelParameters,
  scale: SpelledScale,
  rungs: readonly number[],
  strings: readonly number[],
  plan: RhythmPlan,
  bars: number,
  random: Random,
): number[] {
  const count = plan.onsets.length;
  const steps = chordSteps(scale);
  const pc = (offset: number): number => ((offset % 12) + 12) % 12;
  const onDegree = (degrees: readonly (1 | 3 | 5)[]): number[] =>
    rungs.flatMap((offset, i) => (degrees.some((d) => steps[d] === pc(offset)) ? [i] : []));
  const chordPcs = [steps[1], steps[3], steps[5]];
  const base = {
    rungs,
    strings,
    chord: rungs.map((offset) => chordPcs.includes(pc(offset))),
    count,
    strong: plan.strong,
    quick: plan.onsets.map((onset, i) => i > 0 && onset - plan.onsets[i - 1]! <= QUICK_TICKS),
    maxLeap: level.maxLeap,
    maxLeaps: Math.max(1, Math.round(level.leapsPerBar * bars)),
    maxStringCross: level.maxStringCross,
  };
  const top = rungs.length - 1;
  const firsts = onDegree(level.firstDegrees).filter((rung) => rung < top);
  const lasts = onDegree(level.lastDegrees).filter((rung) => rung < top);
  if (firsts.length > 0 && lasts.length > 0)
    for (let attempt = 0; attempt < ATTEMPTS; attempt++) {
      const first = random.pick(firsts);
      const last = random.pick(lasts);
      const floor = Math.max(first, last) + 1;
      const climax = floor + random.below(top - floor + 1);
      // From a third of the way on: a shape rises to its height and comes down again.
      const earliest = Math.max(1, Math.floor(count / 3));
      const climaxAt = earliest + random.below(Math.max(1, count - 1 - earliest));
      const mirror = new Array<number>(count).fill(0);
      const mirrorSign = new Array<number>(count).fill(1);
      for (const answer of plan.answers) {
        const sign = random.chance(1, 3) ? -1 : 1;
        for (let k = 1; k < plan.opening && answer + k < count; k++) {
          mirror[answer + k] = k;
          mirrorSign[answer + k] = sign;
        }
      }
      const task: LineTask = { ...base, first, last, climax, climaxAt, mirror, mirrorSign };
      const line = findLine(task, random);
      if (line) return line.map((rung) => rungs[rung]!);
    }
  throw new RangeError(
    `level "${level.name}" finds no melody with these limits; allow larger leaps, a wider range or other first and last notes`,
  );
}
