import type { SheetMark } from '../../music/score.ts';

/**
 * How far into the phrase a sheet's sound has come, in bars (1.5 = the middle of the second bar), or null
 * outside the phrase.
 *
 * @param marks of the sheet; its `bar` marks repeat for every sounding of the phrase.
 * @param bars of the phrase. @param barSec length of a bar.
 */
export function barsInto(
  marks: readonly SheetMark[],
  positionSec: number,
  bars: number,
  barSec: number,
): number | null {
  const last = lastBefore(marks, 'bar', positionSec);
  if (!last) return null;
  const share = (positionSec - last.atSec) / barSec;
  // A small overhang keeps the line on the last bar line for one picture; after that the phrase is over.
  return share > 1.02 ? null : (last.index % bars) + Math.min(1, share);
}

/** The number to show while counting in, 1 and up, or null when nothing is counted. */
export function countNow(
  marks: readonly SheetMark[],
  positionSec: number,
  beatsPerBar: number,
  beatSec: number,
): number | null {
  const last = lastBefore(marks, 'countIn', positionSec);
  if (!last || positionSec - last.atSec > beatSec * 1.05) return null;
  return (last.index % beatsPerBar) + 1;
}

export function lastBefore(
  marks: readonly SheetMark[],
  label: SheetMark['label'],
  positionSec: number,
): SheetMark | null {
  let found: SheetMark | null = null;
  for (const mark of marks) if (mark.label === label && mark.atSec <= positionSec) found = mark;
  return found;
}

/** Moves an instant back to the beat before it: the hairline of those who asked for less motion. */
export function toBeat(marks: readonly SheetMark[], positionSec: number): number {
  return lastBefore(marks, 'beat', positionSec)?.atSec ?? positionSec;
}
