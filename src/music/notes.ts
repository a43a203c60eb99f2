import type { TakenStrum } from './chords/taken.ts';
import type { Cents, Db, Midi, Sec } from './units.ts';

/**
 * One note as it was heard: what `dsp` hands out and what a mark is made from.
 *
 * `onsetSec` is the instant of the attack: the moment the string's energy starts to rise (the last
 * instant before the attack's peak at which the 1 ms energy is still 20 dB under it).
 */
export interface HeardNote {
  readonly onsetSec: Sec;
  /** End of the sounding note; rough (±100 ms): good for drawing, not for marking lengths. */
  readonly offsetSec: Sec;
  /** Nearest equal-tempered note after the take's own tuning offset was taken out; a whole number. */
  readonly midi: Midi;
  /** What is left between the sounding pitch and `midi` after the tuning offset, −50…+50. */
  readonly cents: Cents;
  /** RMS level over the note's first 50 ms, dBFS. */
  readonly levelDb: Db;
  /** Probability, 0…1, that this is a real note with this pitch. */
  readonly confidence: number;
}

/** May a take be marked? `caution`: yes, but say why it may be off. `refused`: no. */
export type HeardVerdict = 'ok' | 'caution' | 'refused';

/** Why a take is marked with caution or not at all. Texts and remedies are in `ui/messages.ts`. */
export type HeardReason =
  | 'silence' // nothing above the noise floor
  | 'too-quiet' // something, but too soft to judge
  | 'clipped' // the input was overdriven
  | 'no-stream' // samples missing, NaN, or the stream stopped
  | 'not-an-instrument' // speech, humming, singing, a metronome, handling noise
  | 'backing-only' // the loudspeaker's backing and no guitar
  | 'backing-too-loud' // a guitar, but buried
  | 'unclear'; // many notes with low confidence

export interface Heard {
  readonly verdict: HeardVerdict;
  readonly reason: HeardReason | null;
  /** Only where a backing was given: */
  readonly delayMs?: number | null;
  readonly driftPpm?: number | null;
  readonly cancellationDb?: number | null;
}

/** A take after listening. Times count from the first sample given. */
export interface HeardTake {
  readonly notes: readonly HeardNote[];
  /** The instrument's overall tuning against A4 = 440 Hz, −50…+50. */
  readonly tuningCents: Cents;
  readonly heard: Heard;
  /** Strokes with what they are as the chords that were asked for; absent where none was. */
  readonly strums?: readonly TakenStrum[];
}
