import { HOP } from '../signal/prepared.ts';
import { doubles, floats } from '../signal/workspace.ts';
import { createBlockProducts } from './blockProducts.ts';
import {
  BLOCK_DITHER,
  framesIn,
  LAG_EDGES,
  LAGS,
  LONG,
  PITCHES,
  SHORT,
  SHORT_FROM,
  SHORT_LAGS,
  TILT,
} from './pitchGrid.ts';
import type { PitchRows } from './pitchGrid.ts';

/** As `pitchFrames` says; in plain code, with 64-bit sums. */
export function plainPitchRows(half: Float32Array, makeProducts = createBlockProducts): PitchRows {
  const frames = framesIn(half.length);
  const padded = doubles((frames + LONG) * HOP + LAGS + HOP + 4);
  const used = Math.min(half.length, padded.length);
  for (let i = 0; i < used; i++) padded[i] = half[i]! - TILT * (i > 0 ? half[i - 1]! : 0);
  const energy = doubles(padded.length + 1);
  for (let i = 0; i < padded.length; i++) energy[i + 1] = energy[i]! + padded[i]! * padded[i]!;
  const ring = Array.from({ length: LONG + 1 }, () => new Float64Array(LAGS));
  const products = makeProducts(padded);
  const longProducts = new Float64Array(LAGS);
  const shortProducts = new Float64Array(SHORT_LAGS);
  const difference = new Float64Array(LAGS);
  const long = new Float64Array(PITCHES);
  const short = new Float64Array(PITCHES);
  const raw = floats(frames * PITCHES);
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
    normalise(energy, longProducts, j * HOP, LONG, difference, LAGS);
    bestPerPitch(difference, 0, long);
    normalise(energy, shortProducts, (j + 1) * HOP, SHORT, difference, SHORT_LAGS);
    bestPerPitch(difference, SHORT_FROM, short);
    for (let n = 0; n < PITCHES; n++) {
      const value = n < SHORT_FROM ? long[n]! : 0.5 * (long[n]! + short[n]!);
      raw[j * PITCHES + n] = value;
      if (value > best[j]!) best[j] = value;
    }
    power[j] = (energy[(j + LONG) * HOP]! - energy[j * HOP]!) / (LONG * HOP);
  }
  return { raw, best, power };
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
  blocks: number,
  out: Float64Array,
  lags: number,
): void {
  const width = blocks * HOP;
  const own = energy[from + width]! - energy[from]!;
  const dither = BLOCK_DITHER * blocks;
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
