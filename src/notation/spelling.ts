import type { Instrument } from '../music/score.ts';
import { CIRCLE } from '../music/signature.ts';

export { fifthsOf } from '../music/signature.ts';

/** Major key names by signature, as the engraver asks for them. */
const MAJOR = ['Cb', 'Gb', 'Db', 'Ab', 'Eb', 'Bb', 'F', 'C', 'G', 'D', 'A', 'E', 'B', 'F#', 'C#'];
export const majorKeyOf = (fifths: number): string => MAJOR[fifths + 7]!;

export interface Spelled {
  readonly letter: string;
  /** `bb`, `b`, `` (natural), `#`, `##`. */
  readonly accidental: string;
  readonly octave: number;
}

/** Takes a spelling like "Bb3" apart. @throws RangeError when it is none. */
export function spelled(spelling: string): Spelled {
  const parts = /^([A-G])(#{0,2}|b{0,2})(-?\d)$/.exec(spelling);
  if (!parts)
    throw new RangeError(`a spelling is a letter, accidentals and an octave like "Bb3", got ${spelling}`);
  return { letter: parts[1]!, accidental: parts[2]!, octave: Number(parts[3]) };
}

/** The accidental that a key signature gives a letter. */
export function inSignature(letter: string, fifths: number): string {
  if (fifths > 0 && CIRCLE.indexOf(letter) < fifths) return '#';
  if (fifths < 0 && CIRCLE.indexOf(letter) >= 7 + fifths) return 'b';
  return '';
}

/** Remembers what has been written in a bar, so that an accidental stands once, and a natural where needed. */
export function accidentalKeeper(fifths: number): (note: Spelled) => string | null {
  const written = new Map<string, string>();
  return ({ letter, accidental, octave }) => {
    const place = `${letter}${octave}`;
    const holds = written.get(place) ?? inSignature(letter, fifths);
    if (holds === accidental) return null;
    written.set(place, accidental);
    return accidental === '' ? 'n' : accidental;
  };
}

export const CLEFS: Readonly<Record<Instrument, 'treble' | 'bass'>> = { guitar: 'treble', bass: 'bass' };
/** Guitar and bass sound an octave below what is written. */
export const WRITTEN_OCTAVE_UP = 1;

/** Octaves up from what sounds to what is written: of the guitar kind, four strings are a ukulele, which is written as it sounds. */
export const writtenOctaveUp = (instrument: Instrument, strings: number): number =>
  instrument === 'guitar' && strings === 4 ? 0 : WRITTEN_OCTAVE_UP;
