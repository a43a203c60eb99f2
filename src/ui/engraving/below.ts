import { CLEFS, spelled, writtenOctaveUp } from '../../notation/index.ts';
import type { Piece } from './layout.ts';

/** Units below the staff's lowest line that a stem may hang before the TAB must give way: a middle line's stem. */
export const HANGS_FREE = 16;
/** Length of a stem, and half a head with a little air. */
const STEM = 35;
const HEAD = 8;
/** Steps from C0 to the lowest line: E4 in the treble, G2 in the bass clef; a step is half a space of 10. */
const LOWEST = { treble: 7 * 4 + 2, bass: 7 * 2 + 4 } as const;

/**
 * How far a written note may reach under the staff's lowest line, a tenth of a space the unit: its head, and its stem
 * where that may hang (from the middle line up, and under a beam whatever its height).
 */
export function hangsBelow(piece: Pick<Piece, 'instrument' | 'strings'>, spelling: string): number {
  const { letter, octave } = spelled(spelling);
  const steps = 7 * (octave + writtenOctaveUp(piece.instrument, piece.strings)) + 'CDEFGAB'.indexOf(letter);
  const above = (steps - LOWEST[CLEFS[piece.instrument] as keyof typeof LOWEST]) * 5;
  return Math.max(HEAD - above, above >= 10 ? STEM - above : HEAD - above);
}

/** From the lowest line to the top one. */
const STAFF_HIGH = 40;

/** How far a written note may reach over the staff's top line, in the same unit: its head, or its stem where that rises. */
export function standsAbove(piece: Pick<Piece, 'instrument' | 'strings'>, spelling: string): number {
  const { letter, octave } = spelled(spelling);
  const steps = 7 * (octave + writtenOctaveUp(piece.instrument, piece.strings)) + 'CDEFGAB'.indexOf(letter);
  const above = (steps - LOWEST[CLEFS[piece.instrument] as keyof typeof LOWEST]) * 5;
  return (above <= 20 ? above + STEM : above + HEAD) - STAFF_HIGH;
}
