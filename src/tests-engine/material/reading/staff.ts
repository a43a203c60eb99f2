import type { Instrument, Key } from '../../../music/score.ts';
import { spelledScale } from '../theory/scale.ts';

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

/** Scales that are written with the signature of another: their altered degrees stand as accidentals. */
const WRITTEN_AS: Readonly<Record<string, string>> = {
  'harmonic minor': 'minor',
  'melodic minor': 'minor',
  'minor pentatonic': 'minor',
  blues: 'minor',
  'major pentatonic': 'major',
};

const cache = new Map<string, ReadonlyMap<string, string>>();

/** The accidental that a key's signature gives each letter: "", "#" or "b". @throws RangeError for a key that is none. */
export function signature(key: Key): ReadonlyMap<string, string> {
  const name = `${key.tonic} ${key.scale}`;
  let known = cache.get(name);
  if (!known) {
    const { names } = spelledScale({ tonic: key.tonic, scale: WRITTEN_AS[key.scale] ?? key.scale });
    cache.set(name, (known = new Map(names.map((note) => [note[0]!, note.slice(1)]))));
  }
  return known;
}

/** Sharps or flats in a key's signature, 0…7. */
export const signatureSize = (key: Key): number =>
  [...signature(key).values()].reduce((sum, sign) => sum + sign.length, 0);

/** Is this spelling none of the signature's, so that it takes an accidental of its own? */
export function isAltered(spelling: string, key: Key): boolean {
  const parts = SPELLING.exec(spelling)!;
  return (signature(key).get(parts[1]!) ?? '') !== parts[2];
}
