import type { LevelParameters } from '../levels/types.ts';
import { type Stretch, join, opens } from './parts.ts';

type Parts = readonly [Stretch, Stretch, Stretch, Stretch];
type Bar = readonly [Stretch, Stretch];

/** Walks the rhythms that may be asked against this one, from `turn` on (any whole number ≥ 0). */
export type Others = (parts: Parts, turn?: number) => Generator<Parts, void>;

/** Onsets that one list has and the other lacks. */
export const onlyIn = (a: readonly number[], b: readonly number[]): number[] =>
  a.filter((onset) => !b.includes(onset));

/** True where one rhythm is the other begun earlier or later, straight or round the end. */
export function isShift(a: readonly number[], b: readonly number[], length: number): boolean {
  if (a.length !== b.length) return false;
  const there = new Set(b);
  return b.some((onset) => {
    const by = (onset - a[0]! + length) % length;
    return a.every((moment) => there.has((moment + by) % length));
  });
}

/**
 * Could a listener of this level tell them apart, and by nothing but one or two onsets? The same number of
 * notes, at most `question.moves` of them elsewhere, each at least `question.leastTicks` from where it was.
 */
export function differsAsAsked(level: LevelParameters, a: readonly number[], b: readonly number[]): boolean {
  if (a.length !== b.length) return false;
  const gone = onlyIn(a, b);
  const come = onlyIn(b, a);
  return (
    gone.length >= 1 &&
    gone.length <= level.question.moves &&
    gone.every((onset, i) => Math.abs(onset - come[i]!) >= level.question.leastTicks)
  );
}

/** With more bars than this a rhythm always has a part to change; with few, a whole bar may have to. */
const FEW_BARS = 400;

/**
 * How a level's rhythms are varied for the question: one part of a bar is replaced by another part of the
 * level's figures with as many notes; where the level has few bars, also one whole bar.
 */
export function otherRhythms(
  level: LevelParameters,
  firsts: readonly Stretch[],
  seconds: readonly Stretch[],
  bars: readonly Bar[],
  length: number,
): Others {
  const partCache = new Map<Stretch, readonly Stretch[]>();
  const instead = (part: Stretch, pool: readonly Stretch[]): readonly Stretch[] => {
    let found = partCache.get(part);
    if (!found) {
      found = pool.filter((other) => differsAsAsked(level, part.onsets, other.onsets));
      partCache.set(part, found);
    }
    return found;
  };
  const barCache = new Map<string, readonly Bar[]>();
  const insteadOfBar = (a: Stretch, b: Stretch): readonly Bar[] => {
    const mine = join([a, b]).onsets;
    const name = mine.join();
    let found = barCache.get(name);
    if (!found) {
      found = bars.filter((other) => differsAsAsked(level, mine, join(other).onsets));
      barCache.set(name, found);
    }
    return found;
  };
  return function* (parts, turn = 0) {
    const [a, b, c, d] = parts;
    const changed: Parts[] = [
      ...instead(a, firsts)
        .filter(opens)
        .map((x): Parts => [x, b, c, d]),
      ...instead(b, seconds).map((x): Parts => [a, x, c, d]),
      ...instead(c, firsts).map((x): Parts => [a, b, x, d]),
      ...instead(d, seconds).map((x): Parts => [a, b, c, x]),
    ];
    if (bars.length <= FEW_BARS) {
      for (const [x, y] of insteadOfBar(a, b)) if (opens(x)) changed.push([x, y, c, d]);
      for (const [x, y] of insteadOfBar(c, d)) changed.push([a, b, x, y]);
    }
    const mine = join(parts).onsets;
    for (let i = 0; i < changed.length; i++) {
      const other = changed[(turn + i) % changed.length]!;
      const onsets = join(other).onsets;
      if (differsAsAsked(level, mine, onsets) && !isShift(mine, onsets, length)) yield other;
    }
  };
}
