import { barTicks } from '../../music/metre.ts';
import { hasChords } from '../../music/piece.ts';
import { LIMITS } from '../../music/schema/index.ts';
import type { PieceTask } from '../../music/task.ts';
import { ticks } from '../../music/units.ts';
import type { AskedPage } from './pageQuestions.ts';

/** Bars that are printed to be asked about. */
const BARS = 8;

/** The first whole bars of a piece as a page; null where its notes are not known, are chords, or fit into no plain bars. */
export function pageOfPiece(task: PieceTask): AskedPage | null {
  const { part, bars, phrase, key, tempoBpm } = task;
  if (!part || hasChords(part)) return null;
  const length = barTicks(phrase.metre);
  const first = bars.findIndex(({ durationTicks }) => durationTicks === length);
  if (first < 0) return null;
  let count = 0;
  while (count < BARS && bars[first + count]?.durationTicks === length) count++;
  const from = bars[first]!.startTicks;
  const to = from + count * length;
  const notes = part
    .filter(({ startTicks, durationTicks }) => startTicks >= from && startTicks + durationTicks <= to)
    .map((note) => ({ ...note, startTicks: ticks(note.startTicks - from) }));
  const written = notes.every(({ startTicks, durationTicks }) =>
    [startTicks, startTicks + durationTicks].every((at) => LIMITS.gridTicks.some((grid) => at % grid === 0)),
  );
  return notes.length > 0 && written
    ? { phrase: { metre: phrase.metre, bars: count, notes }, key, tempoBpm }
    : null;
}
