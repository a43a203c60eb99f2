import type { AskedChord, ChordTest } from '../../../music/chords/index.ts';
import { ticksToSec } from '../../../music/units.ts';
import { askedOf } from './asked.ts';

/** A chord of a test as it is asked of the ear and as it is marked; seconds from beat 1. */
export interface DueTestChord {
  readonly symbol: string;
  readonly dueSec: number | null;
  readonly chord: AskedChord;
}

export const dueChords = ({ chords, tempoBpm, tuning }: ChordTest): DueTestChord[] =>
  chords.map((chord) => ({
    symbol: chord.symbol,
    dueSec: chord.startTicks === null ? null : ticksToSec(chord.startTicks, tempoBpm),
    chord: askedOf(chord, tuning),
  }));

/** A strum may answer a chord from half a gap before it is due to a whole gap after. */
const BEFORE = 0.5;
const AFTER = 1;
/** The gap around a chord that is alone. */
const ALONE_SEC = 2;

/** When a strum may answer chord `index`, seconds from beat 1; ever, where no time is asked. */
export function spanOf(
  due: readonly { readonly dueSec: number | null }[],
  index: number,
): { fromSec: number; toSec: number } {
  const at = due[index]!.dueSec;
  if (at === null) return { fromSec: -Infinity, toSec: Infinity };
  const next = due[index + 1]?.dueSec ?? null;
  const before = due[index - 1]?.dueSec ?? null;
  const gap = next !== null ? next - at : before !== null ? at - before : ALONE_SEC;
  const back = before !== null ? at - before : gap;
  return { fromSec: at - BEFORE * back, toSec: at + AFTER * gap };
}
