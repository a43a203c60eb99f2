export const SCALE_KINDS = [
  'major',
  'natural minor',
  'harmonic minor',
  'melodic minor',
  'major pentatonic',
  'minor pentatonic',
  'blues',
  'dorian',
  'mixolydian',
  'chromatic',
  'major arpeggio',
  'minor arpeggio',
  'dominant seventh arpeggio',
  'major seventh arpeggio',
  'minor seventh arpeggio',
  'diminished seventh arpeggio',
] as const;
export type ScaleKind = (typeof SCALE_KINDS)[number];

export const DIRECTIONS = ['up', 'down', 'up and down'] as const;
export type Direction = (typeof DIRECTIONS)[number];

export const NOTE_VALUES = ['crotchets', 'quavers', 'triplets', 'semiquavers'] as const;
export type NoteValues = (typeof NOTE_VALUES)[number];

/** One entry of a list of scales and arpeggios: plain JSON, what an examiner would name. */
export interface ScaleEntry {
  /** Letter and accidental: "A", "F#", "Eb". */
  readonly tonic: string;
  readonly kind: ScaleKind;
  /** 1…3. */
  readonly octaves: number;
  /** String that the lowest note is on, 1 = highest; null: the lowest on which it can be played. */
  readonly string: number | null;
  /** Fret of the index finger for the lowest note; null: where it lies best. 1 is the open position. */
  readonly position: number | null;
  readonly direction: Direction;
  readonly values: NoteValues;
  /** Slowest and fastest that is asked, crotchets a minute; both the same for one tempo. */
  readonly tempo: readonly [number, number];
  /** Quavers are swung, long to short as two to one. */
  readonly swung: boolean;
  /** false: the notes are shown while it is played. */
  readonly byHeart: boolean;
}
