import type { LevelParameters } from '../levels/types.ts';
import type { Pairs } from './pairs.ts';
import { type Stretch, join, opens } from './parts.ts';

type Parts = readonly [Stretch, Stretch, Stretch, Stretch];
type Onsets = readonly number[];

/** Walks the rhythms that may be asked against this one, from `turn` on (any whole number ≥ 0). */
export type Others = (parts: Parts, turn?: number) => Generator<Parts, void>;

/** True where one rhythm is the other begun earlier or later, straight or round the end. */
export function isShift(a: Onsets, b: Onsets, length: number): boolean {
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
export function differsAsAsked({ question }: LevelParameters, a: Onsets, b: Onsets): boolean {
  if (a.length !== b.length) return false;
  const gone: number[] = [];
  const come: number[] = [];
  for (let i = 0, j = 0; i < a.length || j < b.length;) {
    const left = a[i] ?? Infinity;
    const right = b[j] ?? Infinity;
    if (left <= right) i++;
    if (right <= left) j++;
    if (left < right && gone.push(left) > question.moves) return false;
    if (right < left && come.push(right) > question.moves) return false;
  }
  return gone.length > 0 && gone.every((onset, i) => Math.abs(onset - come[i]!) >= question.leastTicks);
}

/** With more bars than this a rhythm always has a part to change; with few, a whole bar may have to. */
const FEW_BARS = 400;

const byNotes = <T>(list: readonly T[], notes: (item: T) => number): ReadonlyMap<number, readonly T[]> => {
  const groups = new Map<number, T[]>();
  for (const item of list) {
    const group = groups.get(notes(item));
    if (group) group.push(item);
    else groups.set(notes(item), [item]);
  }
  return groups;
};

/**
 * How a level's rhythms are varied for the question: one part of a bar is replaced by another part of the
 * level's figures with as many notes; where the level has few bars, also one whole bar.
 */
export function otherRhythms(
  level: LevelParameters,
  firsts: readonly Stretch[],
  seconds: readonly Stretch[],
  bars: Pairs,
  length: number,
): Others {
  const firstsBy = byNotes(firsts, (part) => part.onsets.length);
  const secondsBy = byNotes(seconds, (part) => part.onsets.length);
  const listed =
    bars.size <= FEW_BARS
      ? Array.from({ length: bars.size }, (_, i) => ({ pair: bars.at(i), onsets: join(bars.at(i)).onsets }))
      : [];
  const barsBy = byNotes(listed, (bar) => bar.onsets.length);

  return function* (parts, turn = 0) {
    const [a, b, c, d] = parts;
    const part = (old: Stretch, pool: ReadonlyMap<number, readonly Stretch[]>, put: (x: Stretch) => Parts) =>
      choices(pool.get(old.onsets.length) ?? [], (x) =>
        differsAsAsked(level, old.onsets, x.onsets) ? put(x) : null,
      );
    const bar = (x: Stretch, y: Stretch, put: (pair: readonly [Stretch, Stretch]) => Parts) => {
      const { onsets } = join([x, y]);
      return choices(barsBy.get(onsets.length) ?? [], (other) =>
        differsAsAsked(level, onsets, other.onsets) ? put(other.pair) : null,
      );
    };
    const all = [
      part(a, firstsBy, (x) => [x, b, c, d]),
      part(b, secondsBy, (x) => [a, x, c, d]),
      part(c, firstsBy, (x) => [a, b, x, d]),
      part(d, secondsBy, (x) => [a, b, c, x]),
      bar(a, b, ([x, y]) => [x, y, c, d]),
      bar(c, d, ([x, y]) => [a, b, x, y]),
    ];
    const size = all.reduce((sum, choice) => sum + choice.size, 0);
    const mine = join(parts).onsets;
    for (let i = 0; i < size; i++) {
      let at = (turn + i) % size;
      let which = 0;
      while (at >= all[which]!.size) at -= all[which++]!.size;
      const other = all[which]!.change(at);
      if (!other || !opens(other[0])) continue;
      const { onsets } = join(other);
      if (differsAsAsked(level, mine, onsets) && !isShift(mine, onsets, length)) yield other;
    }
  };
}

/** Replacements and what each makes of the rhythm (null: nothing that may be asked), built when asked for. */
function choices<T>(list: readonly T[], change: (item: T) => Parts | null) {
  return { size: list.length, change: (i: number): Parts | null => change(list[i]!) };
}
