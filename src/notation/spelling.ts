import type { Instrument, Key } from '../music/score.ts';

const CIRCLE = ['F', 'C', 'G', 'D', 'A', 'E', 'B'];

/** Fifths away from the major key on the same tonic, by the mode a scale's name holds. */
const MODE_FIFTHS: readonly (readonly [RegExp, number])[] = [
  [/mixolydian/, -1],
  [/dorian/, -2],
  [/phrygian/, -4],
  [/locrian/, -5],
  [/lydian/, 1],
  [/major blues/, 0],
  [/minor|aeolian|blues/, -3],
];

/**
 * The key signature as a count of sharps (+) or flats (−), −7…7. Scales without a signature of their own
 * (pentatonic, blues, harmonic minor) take that of the major or minor key on their tonic.
 * @throws RangeError for a tonic that is not a letter with accidentals, or a signature beyond seven.
 */
export function fifthsOf(key: Key): number {
  const parts = /^([A-G])(#{0,2}|b{0,2})$/.exec(key.tonic);
  if (!parts) throw new RangeError(`tonic must be a letter A–G with # or b, got ${key.tonic}`);
  const accidentals = parts[2]!.startsWith('#') ? parts[2]!.length : -parts[2]!.length;
  const mode = MODE_FIFTHS.find(([name]) => name.test(key.scale.toLowerCase()))?.[1] ?? 0;
  const fifths = CIRCLE.indexOf(parts[1]!) - 1 + 7 * accidentals + mode;
  if (fifths < -7 || fifths > 7)
    throw new RangeError(
      `${key.tonic} ${key.scale} would need ${Math.abs(fifths)} accidentals; at most 7 are written`,
    );
  return fifths;
}

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
