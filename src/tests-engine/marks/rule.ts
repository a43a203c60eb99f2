/**
 * The numbers of the marking rule, each with its reason. A written note is worth one point; the mark is
 * 100 x (1 - points lost / written notes), never under 0. Halving or doubling any of them moves the agreement with
 * the examiners' grades by less than chance (`npm run bench:marks`), so round numbers are taken.
 */
export interface Rule {
  /** Points lost by a wrong pitch in the right place. */
  readonly pitch: number;
  /** Points lost by a note wholly off the beat; at one's own tempo, by a wrong duration before a note. */
  readonly time: number;
  readonly missed: number;
  readonly extra: number;
  /** Share of the pitch points lost by a note that is the right interval from the one before it, but as far off. */
  readonly pitchShift: number;
  /** Points lost by a note that keeps step with the one before it, but lies beside the backing's beat. */
  readonly displaced: number;
}

/**
 * A missed note loses its point, an extra one half as much: the line is still there. A note wrong in pitch and
 * wholly out of time is a missed and an extra one, so `pitch + time = missed + extra`, in equal halves. A passage
 * right in itself but displaced keeps the larger share of each note's point.
 */
export const MELODY: Rule = {
  pitch: 0.75,
  time: 0.75,
  missed: 1,
  extra: 0.5,
  pitchShift: 0.4,
  displaced: 0.3,
};
/**
 * A rhythm is its durations, and nothing else is there to be right: a wrong one, an onset left out and an onset put
 * in weigh alike. Two points each, so that takes to which examiners give the same grade get about the same mark as
 * in a melody (README); the order of the takes does not hang on it.
 */
export const RHYTHM: Rule = { pitch: 0, time: 2, missed: 2, extra: 2, pitchShift: 0.4, displaced: 0.3 };

/** Points lost by going back and playing again: what was to come is left out once, what was played put in again. */
export const restartPrice = (rule: Rule): number => rule.missed + rule.extra;

/**
 * Pitch, semitones: nothing lost up to 0.3, all from 1.3. Half a semitone is where another note is nearer (mir_eval's
 * 50 cents); the ramp is wide enough that a cent more on every note costs less than a mark.
 */
export const PITCH_FREE = 0.3;
export const PITCH_WIDTH = 1;
/** The instrument's overall tuning that is taken out, semitones; with the free 0.3 that covers a quarter tone. */
export const TUNING = 0.3;
/** The right note in another octave is half right. Common practice, no source. */
export const OCTAVE_SHARE = 0.5;
