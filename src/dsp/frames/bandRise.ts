import { HOP, SOUNDING_BLOCK, WORK_RATE } from '../signal/prepared.ts';
import type { Prepared } from '../signal/prepared.ts';
import { percentile } from '../signal/percentile.ts';
import { hann } from '../spectrum/hann.ts';
import { createBandFrames } from './bandFrames.ts';
import type { BandFrames } from './bandFrames.ts';
import type { TriangleBank } from './bands.ts';

/** 11.6 ms: short enough to place an attack, long enough for one period of most notes. */
export const RISE_SIZE = 512;
/** Band edges in Hz: fundamentals, low and high partials, pick noise. */
export const RISE_EDGES = [70, 250, 600, 1200, 2400, 5000, 12_000] as const;
export const RISE_BANDS = RISE_EDGES.length - 1;
/** A rise of more than 18 dB says no more than one of 18. */
export const RISE_CAP_DB = 18;

/** How fast the level rises in each of {@link RISE_BANDS} bands. */
export interface BandRise {
  /** Mean over the bands, 0…{@link RISE_CAP_DB} dB, one for each hop. */
  readonly mean: Float32Array;
  /** The bands' own rises, frame after frame. */
  readonly bands: Float32Array;
}

/** First bin of each band and one past the last. */
export function riseBins(): Int32Array {
  return Int32Array.from(RISE_EDGES, (hertz) => Math.round((hertz * RISE_SIZE) / WORK_RATE));
}

/** Each bin of a band counts alike. */
function riseBank(): TriangleBank {
  const edges = riseBins();
  return {
    start: edges.subarray(0, RISE_BANDS),
    from: edges.map((edge) => edge - edges[0]!),
    weights: new Float64Array(edges[RISE_BANDS]! - edges[0]!).fill(1),
  };
}
/** Tables are made at the first take and serve all others. */
let looking: BandFrames | null = null;

/**
 * Mean of the three frames from `k + 1` on less the loudest of the frames −8…−2. The maximum, not the mean,
 * of the past is what tells an attack from beating partials and from E1's 24 ms ripple.
 */
export function bandRise(take: Prepared): BandRise {
  const frames = Math.floor(take.samples.length / HOP) + 1;
  looking ??= createBandFrames({ size: RISE_SIZE, window: hann(RISE_SIZE), bank: riseBank(), root: false });
  const levels = looking.of(take.samples, frames);
  toDecibels(levels, frames, take);
  const mean = new Float32Array(frames);
  const bands = new Float32Array(frames * RISE_BANDS);
  for (let k = 0; k < frames; k++) {
    let sum = 0;
    for (let b = 0; b < RISE_BANDS; b++) {
      const rise = riseAt(levels, frames, k, b);
      bands[k * RISE_BANDS + b] = rise;
      sum += rise;
    }
    mean[k] = sum / RISE_BANDS;
  }
  return { mean, bands };
}

function riseAt(levels: Float32Array, frames: number, k: number, b: number): number {
  let past = -Infinity;
  for (let j = Math.max(0, k - 8); j <= k - 2; j++) past = Math.max(past, levels[j * RISE_BANDS + b]!);
  if (past === -Infinity) return 0;
  let now = 0;
  for (let j = k + 1; j <= k + 3; j++) now += levels[Math.min(frames - 1, j) * RISE_BANDS + b]!;
  return Math.min(RISE_CAP_DB, Math.max(0, now / 3 - past));
}

/** Power to dB, with a floor 4 dB over each band's quiet moments (the 8th percentile of what is not digital silence). */
function toDecibels(levels: Float32Array, frames: number, take: Prepared): void {
  const heard = new Float32Array(frames);
  for (let b = 0; b < RISE_BANDS; b++) {
    let count = 0;
    let top = 0;
    for (let k = 0; k < frames; k++) {
      const v = levels[k * RISE_BANDS + b]!;
      if (take.sounding[Math.floor((k * HOP) / SOUNDING_BLOCK)]) top = Math.max(top, v);
    }
    for (let k = 0; k < frames; k++) {
      const v = levels[k * RISE_BANDS + b]!;
      if (v > top * 1e-7) heard[count++] = v;
    }
    const floor = Math.max(2.5 * percentile(heard.subarray(0, count), 0.08), top * 1e-6, 1e-12);
    for (let k = 0; k < frames; k++) {
      const at = k * RISE_BANDS + b;
      levels[at] = 10 * Math.log10(levels[at]! + floor);
    }
  }
}
