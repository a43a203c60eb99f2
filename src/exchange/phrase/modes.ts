import { nameOnCircle } from './spell.ts';

/** The modes that MusicXML names, and where their tonic lies: fifths above that of the signature's major key. */
const TONIC_FIFTHS = {
  major: 0,
  minor: 3,
  dorian: 2,
  phrygian: 4,
  lydian: -1,
  mixolydian: 1,
  locrian: 5,
} as const;

export type Mode = keyof typeof TONIC_FIFTHS;

/** The mode of that name; another name for it (ionian, aeolian) or none is read as major or minor. */
export function modeNamed(name: string): Mode {
  if (name === 'aeolian') return 'minor';
  return Object.hasOwn(TONIC_FIFTHS, name) ? (name as Mode) : 'major';
}

/** The mode whose signature a scale is written in: its own name, else minor or major by its third. */
export function modeOf(scale: string): Mode {
  if (Object.hasOwn(TONIC_FIFTHS, scale)) return scale as Mode;
  return /minor|aeolian|blues/.test(scale) && !scale.includes('major') ? 'minor' : 'major';
}

/** The tonic of a signature in a mode: no sharps or flats in dorian is D. */
export const tonicOf = (fifths: number, mode: Mode): string => nameOnCircle(fifths + TONIC_FIFTHS[mode]);
