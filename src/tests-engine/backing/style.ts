import type { DrumPiece } from '../../music/score.ts';

/**
 * A stretch of accompaniment on a grid of semiquavers, one character a step.
 * Drums and chords: `X` loud, `x` plain, `o` soft, `.` nothing. Chords and bass: `-` lets the sound ring on.
 * Bass: `R` root, `5` fifth, `8` octave, `3` third; lower-case `r` is a soft root.
 */
export interface Cell {
  readonly drums: Partial<Readonly<Record<DrumPiece, string>>>;
  readonly bass: string;
  readonly chords: string;
}

/**
 * Bars are put together from cells: a whole bar where the metre has one of its own, else one cell for each
 * of the metre's groups, so that 5/4 and 7/8 follow their grouping whatever it is.
 */
export type CellName = '4/4' | '3/4' | '2/4' | '1/4' | '6/8' | '3/8' | '2/8';

/** Semiquaver steps of each cell. */
export const CELL_STEPS: Readonly<Record<CellName, number>> = {
  '4/4': 16,
  '3/4': 12,
  '2/4': 8,
  '1/4': 4,
  '6/8': 12,
  '3/8': 6,
  '2/8': 4,
};

export interface Style {
  readonly name: string;
  readonly cells: Readonly<Record<CellName, Cell>>;
  /** Usual roots by bar, semitones above the tonic, walked round and round; the phrase may overrule them. */
  readonly turns: { readonly major: readonly number[]; readonly minor: readonly number[] };
  /** Chords carry the minor seventh as a matter of course (blues, funk). */
  readonly sevenths: boolean;
  /** How strongly the style is struck, 0…1, multiplied into every velocity. */
  readonly force: number;
}
