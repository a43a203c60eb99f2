import type { Metre } from '../../music/score.ts';
import { TICKS_PER_QUARTER } from '../../music/units.ts';
import { CELL_STEPS, type Cell, type CellName, type Style } from './style.ts';

const STEP_TICKS = TICKS_PER_QUARTER / 4;

/** A cell standing in a bar, `fromTicks` after its bar line. */
export interface PlacedCell {
  readonly cell: Cell;
  readonly fromTicks: number;
}

/** The metre's groups; a grouping that does not add up to the bar is the caller's mistake. */
function groupsOf(metre: Metre): readonly number[] {
  const sum = metre.grouping.reduce((a, b) => a + b, 0);
  if (sum !== metre.beats || metre.grouping.some((g) => !Number.isInteger(g) || g < 1))
    throw new RangeError(
      `the groups of ${metre.beats}/${metre.beatUnit} must be whole and add up to ${metre.beats}, got [${metre.grouping.join(', ')}]`,
    );
  return metre.grouping;
}

const ticksOf = (name: CellName) => CELL_STEPS[name] * STEP_TICKS;

/** Splits a group of `units` crotchets or quavers into cells there are: 4, 3, 2 or 1 at a time. */
function cellsOfGroup(units: number, beatUnit: number): CellName[] {
  if (beatUnit >= 8) {
    if (units === 1) throw new RangeError('a group of one quaver has no backing');
    if (units <= 3) return [units === 3 ? '3/8' : '2/8'];
    return ['2/8', ...cellsOfGroup(units - 2, beatUnit)];
  }
  if (units <= 4) return [`${units as 1 | 2 | 3 | 4}/4`];
  return ['3/4', ...cellsOfGroup(units - 3, beatUnit)];
}

/** Names of the cells that fill one bar of the metre. */
export function cellNames(metre: Metre): readonly CellName[] {
  const { beats, beatUnit } = metre;
  const groups = groupsOf(metre);
  if (beatUnit === 2) return cellsOfGroup(beats * 2, 4);
  if (beatUnit === 16)
    throw new RangeError(`there is no backing in ${beats}/16: a backing counts in crotchets or quavers`);
  if (beatUnit === 4) {
    if (beats <= 4) return cellsOfGroup(beats, 4);
    // A grouping in ones says nothing; five beats then fall as 3 + 2.
    return groups.every((g) => g === 1) ? cellsOfGroup(beats, 4) : groups.flatMap((g) => cellsOfGroup(g, 4));
  }
  if (beats % 6 === 0 && groups.every((g) => g === 3)) return Array<CellName>(beats / 6).fill('6/8');
  return groups.every((g) => g === 1)
    ? cellsOfGroup(beats, beatUnit)
    : groups.flatMap((g) => cellsOfGroup(g, beatUnit));
}

/** The cells of one bar of this style in this metre, back to back. */
export function barOf(style: Style, metre: Metre): readonly PlacedCell[] {
  let fromTicks = 0;
  return cellNames(metre).map((name) => {
    const placed = { cell: style.cells[name], fromTicks };
    fromTicks += ticksOf(name);
    return placed;
  });
}

/** One struck sign of a row. */
export interface Hit {
  /** From the bar line. */
  readonly atTicks: number;
  /** Until the sound is let go: the sign and the `-` after it. */
  readonly lengthTicks: number;
  readonly sign: string;
}

/** Reads a row of signs; `.` is silence, `-` prolongs the sign before it. */
export function readRow(row: string, fromTicks: number): readonly Hit[] {
  return [...row.matchAll(/([^.-])(-*)/g)].map((m) => ({
    atTicks: fromTicks + m.index * STEP_TICKS,
    lengthTicks: m[0].length * STEP_TICKS,
    sign: m[1]!,
  }));
}
