/** A note value: whole, half, quarter, eighth, sixteenth, thirty-second. */
export type NoteValue = 'w' | 'h' | 'q' | '8' | '16' | '32';

/** One written sign: a notehead or a rest that a single value can show. */
export interface Sign {
  readonly kind: 'note' | 'rest';
  /** From the start of the phrase. */
  readonly startTicks: number;
  readonly durationTicks: number;
  readonly value: NoteValue;
  readonly dots: 0 | 1;
  /** Index into the phrase's notes; null for a rest. */
  readonly noteIndex: number | null;
  /** True on every sign of a note but its last. */
  readonly tiedToNext: boolean;
  /** True on every sign of a note but its first. */
  readonly tiedFromPrevious: boolean;
  /** Which tuplet of the bar this belongs to; null outside one. Every tuplet is three in the time of two. */
  readonly tuplet: number | null;
  /** Which beam of the bar this belongs to; null for a flag or none. */
  readonly beam: number | null;
  /** A rest that fills its bar, drawn in the middle whatever the metre. */
  readonly wholeBar: boolean;
}

/** The signs of one bar; their durations add up to the bar. */
export type BarSigns = readonly Sign[];
