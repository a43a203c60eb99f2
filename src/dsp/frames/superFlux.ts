import { HOP, SOUNDING_BLOCK, WORK_RATE } from '../signal/prepared.ts';
import type { Prepared } from '../signal/prepared.ts';
import { percentile } from '../signal/percentile.ts';
import { hann } from '../spectrum/hann.ts';
import { createBandFrames } from './bandFrames.ts';
import type { BandFrames } from './bandFrames.ts';
import { triangles } from './bands.ts';

/** 46 ms: the shortest window that separates E2's partials; with 1024 their beating looks like onsets. */
const SIZE = 2048;
/** Compared frames lie 6 hops, 17 ms, apart. */
const BACK = 6;
/** The frame that is compared lies half as far ahead of the one that the answer is for. */
const LEAD = BACK / 2;
/** Peak followers forget by 1/e in 0.8 s (adaptive whitening: Stowell & Plumbley, ICMC 2007). */
const MEMORY_SEC = 0.8;
/** Whitening lifts no band more than 40 dB, or room noise would be lifted to the music's level. */
const WHITENING_FLOOR = 0.01;

/** Tables are made at the first take and serve all others. */
const looking = (() => {
  const bank = triangles(SIZE, WORK_RATE, 60, 15_000, 24);
  let made: BandFrames | null = null;
  return {
    bands: bank.start.length,
    frames: (): BandFrames =>
      (made ??= createBandFrames({ size: SIZE, window: hann(SIZE), bank, root: true })),
  };
})();

/**
 * SuperFlux (Böck & Widmer, DAFx 2013), 24 bands to the octave from 60 Hz to 15 kHz.
 * Changed: magnitudes are divided by an adaptive peak before the logarithm, and the mean, not the sum, of the
 * positive differences is given.
 *
 * @returns one value ≥ 0 for each hop; frame k compares what is centred on sample (k + {@link BACK} / 2) · HOP
 *   with what lay 17 ms before, so that a sharp attack at sample t gives its peak near frame t / HOP.
 */
export function superFlux(take: Prepared): Float32Array {
  const bands = looking.bands;
  const frames = Math.floor(take.samples.length / HOP) + 1;
  const total = frames + LEAD;
  const mags = looking.frames().of(take.samples, total);
  const loudest = new Float32Array(total);
  for (let k = 0, at = 0; k < total; k++) {
    let top = 0;
    for (const end = at + bands; at < end; at++) if (mags[at]! > top) top = mags[at]!;
    loudest[k] = top;
  }
  return flux(mags, bands, frames, percentile(soundingFrames(loudest, take), 0.95));
}

/** Frames that lie in the sounding part of the take. */
export function soundingFrames(values: Float32Array, take: Prepared): number[] {
  const kept: number[] = [];
  for (let k = 0; k < values.length; k++)
    if (take.sounding[Math.floor((k * HOP) / SOUNDING_BLOCK)]) kept.push(values[k]!);
  return kept;
}

const NOT_TAKEN = -1;
/** log10(1 + 10 x) as it is kept, of 10 x. */
const compress = (tenfold: number): number => Math.fround(Math.LOG10E * Math.log1p(tenfold));

/**
 * Mean rise over the bands of each one's magnitude over its own recent peak, compressed, against the greatest of the
 * band and its neighbours {@link BACK} frames earlier. As the logarithm grows with what it is taken of, the greatest
 * is sought before it, and it is taken only where there is a rise: in a third of the places, and once of each number.
 */
function flux(mags: Float32Array, bands: number, frames: number, loud: number): Float32Array {
  const out = new Float32Array(frames);
  const keep = Math.exp(-HOP / WORK_RATE / MEMORY_SEC);
  const floor = Math.max(1e-9, loud * WHITENING_FLOOR);
  const peak = new Float64Array(bands).fill(floor);
  /** Ten times magnitude over peak, of this frame and the BACK before it. */
  const rows = Array.from({ length: BACK + 1 }, () => new Float64Array(bands));
  /** Their logarithms, where one was taken; else under 0. */
  const logs = Array.from({ length: BACK + 1 }, () => new Float64Array(bands));
  for (let k = 0; k < frames + LEAD; k++) {
    const now = rows[k % rows.length]!;
    const nowLogs = logs[k % rows.length]!.fill(NOT_TAKEN);
    const back = (k + 1) % rows.length;
    const then = k < BACK ? null : rows[back]!;
    const thenLogs = logs[back]!;
    const row = k * bands;
    let sum = 0;
    for (let b = 0; b < bands; b++) {
      const value = mags[row + b]!;
      const held = Math.max(value, peak[b]! * keep, floor);
      peak[b] = held;
      const tenfold = (10 * value) / held;
      now[b] = tenfold;
      if (!then) continue;
      let at = b;
      let past = then[b]!;
      if (b > 0 && then[b - 1]! > past) past = then[(at = b - 1)]!;
      if (b + 1 < bands && then[b + 1]! > past) past = then[(at = b + 1)]!;
      if (tenfold <= past) continue;
      if (thenLogs[at] === NOT_TAKEN) thenLogs[at] = compress(past);
      nowLogs[b] = compress(tenfold);
      sum += nowLogs[b]! - thenLogs[at]!;
    }
    if (k >= LEAD) out[k - LEAD] = sum / bands;
  }
  return out;
}
