/**
 * The numbers of the marking rule, each with its reason. A written note is worth one point; the mark is
 * 100 x (1 - points lost / written notes), never under 0.
 */
export interface Rule {
  /** Points lost by a wrong pitch in the right place. */
  readonly pitch: number;
  /** Points lost by a right note wholly out of time. */
  readonly time: number;
  readonly missed: number;
  readonly extra: number;
  /** Points lost by going back and playing again. */
  readonly restart: number;
  /** Share of the pitch points lost by a note that is the right interval from the one before it, but as far off. */
  readonly pitchShift: number;
}

/**
 * `missed` = 1 by definition. A note wrong in pitch and wholly out of time is a missed one and an extra one:
 * `pitch + time = missed + extra`, the two halves alike. `extra` is a blemish beside a full line of right notes.
 */
export const MELODY: Rule = { pitch: 0.65, time: 0.65, missed: 1, extra: 0.3, restart: 0.5, pitchShift: 0.5 };
/** In a rhythm the onsets are all there is: one too many spoils the figure as much as one too few. */
export const RHYTHM: Rule = { pitch: 0, time: 1, missed: 1, extra: 1, restart: 0.5, pitchShift: 0.5 };

/** Share of the time points lost by a note that keeps step with the one before it, but not with the backing. */
export const BACKING_TIME_SHIFT = 0.5;
/** At one's own tempo there is no beat to be behind: a moved pulse is nearly forgiven after the stumble itself. */
export const FREE_TIME_SHIFT = 0.05;

/** Pitch: nothing lost up to 40 cents, all at 110; the nearest-note edge of 50 lies on the ramp's foot. */
export const PITCH_FREE = 0.4;
export const PITCH_WIDTH = 0.7;
/** The right note in another octave is half right. Common practice, no source. */
export const OCTAVE_SHARE = 0.5;
