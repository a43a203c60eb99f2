import type { Metre } from '../music/score.ts';
import { TICKS_PER_QUARTER } from '../music/units.ts';

/** How a bar divides: what a reader must be able to see in the notation. Times in ticks from the bar line. */
export interface BarShape {
  readonly ticks: number;
  /** Where each beat starts, and the bar's end last. A beat of 6/8 is a dotted crotchet. */
  readonly beats: readonly number[];
  /** Where the bar's larger parts start (the middle of 4/4, the groups of 5/4), and the bar's end last. */
  readonly parts: readonly number[];
}

const sums = (lengths: readonly number[]): number[] =>
  lengths.reduce<number[]>((ends, length) => [...ends, ends[ends.length - 1]! + length], [0]);

/** The shape of one bar of `metre`. */
export function barShape(metre: Metre): BarShape {
  const unit = (TICKS_PER_QUARTER * 4) / metre.beatUnit;
  const ticks = unit * metre.beats;
  const groups = sums(metre.grouping.map((size) => size * unit));
  if (groups[groups.length - 1] !== ticks)
    throw new RangeError(
      `metre ${metre.beats}/${metre.beatUnit}: grouping ${metre.grouping.join('+')} does not fill the bar`,
    );
  if (metre.beatUnit >= 8) {
    const parts =
      groups.length === 5 ? [0, groups[2]!, ticks] : metre.grouping.length <= 3 ? [0, ticks] : groups;
    return { ticks, beats: groups, parts };
  }
  const beats = sums(Array.from({ length: metre.beats }, () => unit));
  if (metre.beats === 4) return { ticks, beats, parts: [0, ticks / 2, ticks] };
  if (metre.beats <= 3) return { ticks, beats, parts: [0, ticks] };
  return { ticks, beats, parts: groups };
}

/** The index of the part of `edges` that holds `at`; edges ascend and start at 0. */
export function partOf(edges: readonly number[], at: number): number {
  let part = 0;
  while (part + 2 < edges.length && edges[part + 1]! <= at) part += 1;
  return part;
}

/** True when an edge lies strictly inside [start, end]. */
export const crosses = (edges: readonly number[], start: number, end: number): boolean =>
  edges.some((edge) => edge > start && edge < end);
