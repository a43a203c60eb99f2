import { HOP, REFERENCE_RMS, WORK_RATE } from '../signal/prepared.ts';

/** Lowest and highest MIDI number that is looked for: B0 (five-string bass) to B♭6. */
export const LOWEST = 23;
export const HIGHEST = 94;
export const PITCHES = HIGHEST - LOWEST + 1;
export const HALF_RATE = WORK_RATE / 2;

/** Blocks of HOP samples in the long window: 35 ms, one period of E1 and a half. */
export const LONG = 6;
/** Blocks in the short one, from the second of the long one on: 23 ms. */
export const SHORT = 4;
/** Only from this pitch on (87 Hz) is the short window long enough to be heard as well; counted from {@link LOWEST}. */
export const SHORT_FROM = 41 - LOWEST;
/**
 * Leaning towards the treble, x[i] − 0.9 x[i − 1] (6 dB an octave up from 370 Hz): a palm-muted string's body
 * thump, hum and the fundamental's beating weigh less. Of 785 development notes 9 instead of 13 are misnamed.
 */
export const TILT = 0.9;
/** Power added as if by dither, −80 dB under the loud part, which the tilt lowers by 20 dB: makes silence aperiodic. */
const DITHER = REFERENCE_RMS ** 2 * 1e-10;
/** Of a window's difference, for each block of it. */
export const BLOCK_DITHER = 2 * HOP * DITHER;

/** Lags of the quarter-tones, in samples at half rate: pitch n lies between LAG_EDGES[n + 1] and LAG_EDGES[n]. */
export const LAG_EDGES = Float64Array.from(
  { length: PITCHES + 1 },
  (_, n) => HALF_RATE / (440 * 2 ** ((LOWEST + n - 0.5 - 69) / 12)),
);
/** Lags that the long window is asked for, to a quarter-tone below {@link LOWEST}; and the short one. */
export const LAGS = Math.ceil(LAG_EDGES[0]!) + 2;
export const SHORT_LAGS = Math.ceil(LAG_EDGES[SHORT_FROM]!) + 2;

/** What is measured frame by frame. */
export interface PitchRows {
  /** 0…1 for each frame and pitch: 1 less YIN's normalised difference. */
  readonly raw: Float32Array;
  /** The greatest of each frame. */
  readonly best: Float32Array;
  /** Mean square of the tilted signal over the long window. */
  readonly power: Float64Array;
}
/** How many frames so many samples at {@link HALF_RATE} have. */
export const framesIn = (length: number): number => Math.max(0, Math.floor(length / HOP) - LONG + 1);
