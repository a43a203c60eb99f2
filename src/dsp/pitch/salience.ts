import { createBlockProducts } from './blockProducts.ts';
import { HOP, REFERENCE_RMS, WORK_RATE } from '../signal/prepared.ts';
import { doubles, floats } from '../signal/workspace.ts';

/** Lowest and highest MIDI number that is looked for: B0 (five-string bass) to B♭6. */
export const LOWEST = 23;
export const HIGHEST = 94;
export const PITCHES = HIGHEST - LOWEST + 1;
export const HALF_RATE = WORK_RATE / 2;

/** Blocks of HOP samples in the long window: 35 ms, one period of E1 and a half. */
const LONG = 6;
/** Blocks in the short one, from the second of the long one on: 23 ms. */
const SHORT = 4;
/** Only from here on (87 Hz) is the short window long enough to be heard as well. */
const SHORT_FROM = 41;
/** Longest lag, samples: a quarter-tone below {@link LOWEST}. */
export const MAX_LAG = Math.ceil(HALF_RATE / (440 * 2 ** ((LOWEST - 0.5 - 69) / 12))) + 1;
/**
 * Leaning towards the treble, x[i] − 0.9 x[i − 1] (6 dB an octave up from 370 Hz): a palm-muted string's body
 * thump, hum and the fundamental's beating weigh less. Of 785 development notes 9 instead of 13 are misnamed.
 */
const TILT = 0.9;
/** Power added as if by dither, −80 dB under the loud part, which the tilt lowers by 20 dB: makes silence aperiodic. */
const DITHER = REFERENCE_RMS ** 2 * 1e-10;

/** How periodic the signal is at each semitone, frame by frame; see {@link pitchFrames}. */
export interface PitchFrames {
  readonly frames: number;
  /** 0…1 for each frame and MIDI number {@link LOWEST}…{@link HIGHEST}: 1 less YIN's normalised difference. */
  readonly raw: Float32Array;
  /** The same after {@link gateSubharmonics}. */
  readonly gated: Float32Array;
  /** The greatest raw salience of each frame. */
  readonly best: Float32Array;
  /** Mean square of the tilted signal over the long window. */
  readonly power: Float64Array;
}

/** Instant in samples at the working rate on which frame j is centred for a middling lag. */
export const frameCentre = (j: number): number => 2 * HOP * (j + LONG / 2) + FRAME_LAG;
const FRAME_LAG = 220;
/** The frame whose window begins at or after an instant, and the last whose window (lag included) ends by one. */
export const frameFrom = (at: number): number => Math.ceil(at / (2 * HOP));
export function frameUntil(at: number, lag: number): number {
  return Math.floor((at / 2 - lag) / HOP) - LONG;
}

/** Lags of the quarter-tones, in samples at half rate: pitch n lies between LAG_EDGES[n + 1] and LAG_EDGES[n]. */
const LAG_EDGES = Float64Array.from(
  { length: PITCHES + 1 },
  (_, n) => HALF_RATE / (440 * 2 ** ((LOWEST + n - 0.5 - 69) / 12)),
);
/** Lags that the short window is asked for. */
const SHORT_LAGS = Math.ceil(LAG_EDGES[SHORT_FROM - LOWEST]!) + 2;

/**
 * YIN's cumulative-mean-normalised difference (de Cheveigné & Kawahara, JASA 2002, equations 6 and 8) over two
 * windows, best value within ±50 cents of each semitone, every 5.8 ms.
 *
 * Changed: the windows' cross products are added up from blocks of one hop, so that both windows and all
 * overlapping frames share the multiplications; the value at a semitone is the mean of both windows, or the
 * long one's alone below {@link SHORT_FROM}.
 *
 * @param half samples at {@link HALF_RATE}, scaled as `prepare` scales them
 */
export function pitchFrames(half: Float32Array): PitchFrames {
  const frames = Math.max(0, Math.floor(half.length / HOP) - LONG + 1);
  const lags = MAX_LAG + 1;
  const padded = doubles((frames + LONG) * HOP + lags + HOP + 4);
  const used = Math.min(half.length, padded.length);
  for (let i = 0; i < used; i++) padded[i] = half[i]! - TILT * (i > 0 ? half[i - 1]! : 0);
  const energy = doubles(padded.length + 1);
  for (let i = 0; i < padded.length; i++) energy[i + 1] = energy[i]! + padded[i]! * padded[i]!;
  const ring = Array.from({ length: LONG + 1 }, () => new Float64Array(lags));
  const products = createBlockProducts(padded, lags);
  const longProducts = new Float64Array(lags);
  const shortProducts = new Float64Array(SHORT_LAGS);
  const difference = new Float64Array(lags);
  const long = new Float64Array(PITCHES);
  const short = new Float64Array(PITCHES);
  const raw = floats(frames * PITCHES);
  const gated = floats(frames * PITCHES);
  const best = new Float32Array(frames);
  const power = new Float64Array(frames);
  for (let block = 0; block < frames + LONG - 1; block++) {
    const at = (b: number): Float64Array | null => (b >= 0 ? ring[b % ring.length]! : null);
    products.next(at(block)!);
    moveOn(longProducts, at(block)!, at(block - LONG));
    // The short window ends one block before the long one.
    if (block > 0) moveOn(shortProducts, at(block - 1)!, at(block - 1 - SHORT));
    const j = block - LONG + 1;
    if (j < 0) continue;
    normalise(energy, longProducts, j * HOP, LONG * HOP, difference, lags);
    bestPerPitch(difference, 0, long);
    normalise(energy, shortProducts, (j + 1) * HOP, SHORT * HOP, difference, SHORT_LAGS);
    bestPerPitch(difference, SHORT_FROM - LOWEST, short);
    const row = j * PITCHES;
    for (let n = 0; n < PITCHES; n++) {
      const value = n < SHORT_FROM - LOWEST ? long[n]! : 0.5 * (long[n]! + short[n]!);
      raw[row + n] = value;
      if (value > best[j]!) best[j] = value;
    }
    gateSubharmonics(raw, gated, row);
    power[j] = (energy[(j + LONG) * HOP]! - energy[j * HOP]!) / (LONG * HOP);
  }
  return { frames, raw, gated, best, power };
}

/**
 * Moves a window's products on by one block: `sum` + the entering − the leaving. Rounding stays 300 dB under
 * the loudest block, far under the dither.
 */
function moveOn(sum: Float64Array, entering: Float64Array, leaving: Float64Array | null): void {
  if (leaving) for (let i = 0; i < sum.length; i++) sum[i] = sum[i]! + entering[i]! - leaving[i]!;
  else for (let i = 0; i < sum.length; i++) sum[i] = sum[i]! + entering[i]!;
}

function normalise(
  energy: Float64Array,
  products: Float64Array,
  from: number,
  width: number,
  out: Float64Array,
  lags: number,
): void {
  const own = energy[from + width]! - energy[from]!;
  const dither = 2 * width * DITHER;
  out[0] = 1;
  let sum = 0;
  for (let lag = 1; lag < lags; lag++) {
    const other = energy[from + lag + width]! - energy[from + lag]!;
    const d = Math.max(0, own + other - 2 * products[lag]!) + dither;
    sum += d;
    out[lag] = (d * lag) / sum;
  }
}

/** 1 − the least difference within each pitch's lags, with minima between samples found by a parabola. */
function bestPerPitch(difference: Float64Array, firstPitch: number, out: Float64Array): void {
  let to = LAG_EDGES[PITCHES]!;
  let atTo = between(difference, to);
  for (let n = PITCHES - 1; n >= firstPitch; n--) {
    const from = to;
    let best = atTo;
    to = LAG_EDGES[n]!;
    atTo = between(difference, to);
    if (atTo < best) best = atTo;
    const last = Math.ceil(to);
    let lag = Math.floor(from);
    let left = difference[lag - 1]!;
    let here = difference[lag]!;
    for (; lag <= last; lag++) {
      const right = difference[lag + 1]!;
      if (here < best && lag >= from && lag <= to) best = here;
      if (here <= left && here <= right) {
        const curve = left - 2 * here + right;
        const shift = curve > 0 ? (0.5 * (left - right)) / curve : 0;
        if (lag + shift >= from && lag + shift <= to) {
          const value = here - 0.25 * (left - right) * shift;
          if (value < best) best = value;
        }
      }
      left = here;
      here = right;
    }
    out[n] = Math.min(1, Math.max(0, 1 - best));
  }
}

function between(values: Float64Array, at: number): number {
  const i = Math.floor(at);
  return values[i]! + (at - i) * (values[i + 1]! - values[i]!);
}

/**
 * Intervals at which a lower pitch's harmonics lie: octave, twelfth, double octave … With 12, 19 and 24 alone
 * the answer becomes the fifth sub-harmonic.
 */
const ABOVE = [12, 19, 24, 28, 31, 34, 36, 38, 40, 42, 43];
/** A pitch survives only where none of its harmonics is 0.90 as periodic (McLeod & Wyvill's k, ICMC 2005), softly. */
const KEY = 0.9;
const SOFTNESS = 0.03;

function gateSubharmonics(raw: Float32Array, gated: Float32Array, at: number): void {
  for (let n = 0; n < PITCHES; n++) {
    const own = raw[at + n]!;
    let kept = own;
    for (const k of ABOVE) {
      if (n + k >= PITCHES || kept < 1e-3) break;
      const z = (raw[at + n + k]! - KEY * own) / SOFTNESS;
      if (z > -7) kept /= 1 + Math.exp(z);
    }
    gated[at + n] = kept;
  }
}
