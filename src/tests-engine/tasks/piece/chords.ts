import type { AskedChord } from '../../../music/chords/index.ts';
import type { PieceTask } from '../../../music/task.ts';
import type { DueChord } from '../../marks/index.ts';
import type { ChordsAsked } from '../types.ts';
import { dueNotes } from './times.ts';

/** Fewer notes at once are an interval: the chord ear was fitted on three and more. */
const FEWEST = 3;

/** Notes that begin together, in order. */
export interface DueGroup {
  readonly dueSec: number;
  readonly midis: readonly number[];
  readonly bar: number;
}

export function dueGroups(task: PieceTask): DueGroup[] {
  const groups: { dueSec: number; midis: number[]; bar: number }[] = [];
  for (const { onsetSec, midi, bar } of dueNotes(task)) {
    const last = groups.at(-1);
    if (last && Math.abs(last.dueSec - onsetSec) < 1e-6) last.midis.push(midi);
    else groups.push({ dueSec: onsetSec, midis: [midi], bar });
  }
  return groups;
}

/** The strokes of a part that sound can tell of: three notes or more. */
export const dueStrokes = (
  task: PieceTask,
): (DueChord & { readonly chord: AskedChord; readonly bar: number })[] =>
  dueGroups(task)
    .filter(({ midis }) => midis.length >= FEWEST)
    .map(({ dueSec, midis, bar }) => ({ dueSec, symbol: String(bar + 1), chord: { shapes: [midis] }, bar }));

/** A stroke may come this much before it is due, and until the next is. */
const EARLY_SEC = 0.25;
const LATEST_SEC = 1.5;

export function askedStrokes(task: PieceTask): ChordsAsked {
  const due = dueStrokes(task);
  return {
    asked: due.map(({ chord, dueSec }, i) => ({
      chord,
      fromSec: dueSec! - EARLY_SEC,
      toSec: Math.min(due[i + 1]?.dueSec ?? Infinity, dueSec! + LATEST_SEC),
    })),
    expectedSec: due.map(({ dueSec }) => dueSec!),
    driven: null,
  };
}
