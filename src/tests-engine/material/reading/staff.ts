import type { Instrument, Key } from '../../../music/score.ts';
import { CIRCLE, fifthsOf } from '../../../music/signature.ts';

const LETTERS = 'CDEFGAB';
const SPELLING = /^([A-G])(#*|b*)(-?\d+)$/;

/** Diatonic steps above C of octave 0, as written: guitar and bass are written an octave above what sounds. */
function writtenStep(spelling: string): number {
  const parts = SPELLING.exec(spelling);
  if (!parts)
    throw new RangeError(`a spelling is a letter, accidentals and an octave like "Bb3", got ${spelling}`);
  return LETTERS.indexOf(parts[1]!) + 7 * (Number(parts[3]) + 1);
}

/** Bottom and top line of the staff: treble clef E4 and F5, bass clef G2 and A3. */
const STAFF: Readonly<Record<Instrument, readonly [number, number]>> = {
  guitar: [2 + 7 * 4, 3 + 7 * 5],
  bass: [4 + 7 * 2, 5 + 7 * 3],
};

/** Ledger lines that a sounding pitch so spelled takes: negative under the staff, positive over it, 0 within. */
export function ledgerLines(spelling: string, instrument: Instrument): number {
  const step = writtenStep(spelling);
  const [bottom, top] = STAFF[instrument];
  if (step < bottom - 1) return -Math.floor((bottom - step) / 2);
  return step > top ? Math.floor((step - top) / 2) : 0;
}

/** The accidental that a key's signature gives a letter: "", "#" or "b". */
function inSignature(letter: string, fifths: number): string {
  const at = CIRCLE.indexOf(letter);
  return at < fifths ? '#' : at >= 7 + fifths ? 'b' : '';
}

/** Sharps or flats in a key's signature, 0…7. @throws RangeError as {@link fifthsOf}. */
export const signatureSize = (key: Key): number => Math.abs(fifthsOf(key));

/** Is this spelling none of the signature's, so that it takes an accidental of its own? */
export function isAltered(spelling: string, key: Key): boolean {
  const parts = SPELLING.exec(spelling)!;
  return inSignature(parts[1]!, fifthsOf(key)) !== parts[2];
}
