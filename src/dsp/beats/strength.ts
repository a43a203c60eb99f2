import { createRealFft } from '../spectrum/realFft.ts';
import { hann } from '../spectrum/hann.ts';

/** How strongly something begins, a hundred times a second, and the part of it that is low. */
export interface Strength {
  /** Values a second. */
  readonly rate: number;
  /** Mean rise of log-magnitudes over all bands, and over those under 160 Hz, less the local mean; ≥ 0. */
  readonly all: Float32Array;
  readonly low: Float32Array;
  /** RMS of each frame. */
  readonly level: Float32Array;
  /** Twelve pitch classes a frame, for how much the harmony changes. */
  readonly chroma: Float32Array;
}

const RATE = 100;
/** About 46 ms at 44.1 kHz, as the published tracker has. */
const WINDOW_SEC = 0.046;
const BANDS = 32;
const LOWEST_HZ = 40;
const HIGHEST_HZ = 8000;
const LOW_HZ = 160;
/** Local mean over half a second. */
const MEAN_SEC = 0.5;

/** Onset strength of a whole piece. @throws RangeError for a rate under 8 kHz */
export function onsetStrength(samples: Float32Array, sampleRate: number): Strength {
  if (!(sampleRate >= 8000)) throw new RangeError(`a sample rate is 8000 Hz or more, got ${sampleRate}`);
  const size = 2 ** Math.round(Math.log2(WINDOW_SEC * sampleRate));
  const fft = createRealFft(size);
  const window = hann(size);
  const frames = Math.max(1, Math.floor((samples.length / sampleRate) * RATE));
  const top = Math.min(HIGHEST_HZ, sampleRate / 2.2);
  const binOf = (hz: number): number => Math.round((hz * size) / sampleRate);
  const edges = Array.from({ length: BANDS + 1 }, (_, b) =>
    binOf(LOWEST_HZ * (top / LOWEST_HZ) ** (b / BANDS)),
  );
  for (let b = 1; b <= BANDS; b++) edges[b] = Math.max(edges[b]!, edges[b - 1]! + 1);
  const lowBands = Math.max(
    1,
    edges.findIndex((bin) => bin >= binOf(LOW_HZ)),
  );
  const count = edges[BANDS]! + 1;
  const power = new Float64Array(count);
  const classOf = Int8Array.from({ length: count }, (_, bin) => {
    const hz = (bin * sampleRate) / size;
    return hz < 110 || hz > 2000 ? -1 : (((Math.round(12 * Math.log2(hz / 440)) + 9) % 12) + 12) % 12;
  });
  const before = new Float64Array(BANDS);
  const all = new Float32Array(frames);
  const low = new Float32Array(frames);
  const level = new Float32Array(frames);
  const chroma = new Float32Array(frames * 12);
  for (let k = 0; k < frames; k++) {
    const start = Math.round((k / RATE) * sampleRate) - size / 2;
    let sum = 0;
    for (let n = 0; n < size; n++) {
      const v = samples[start + n] ?? 0;
      sum += v * v;
      fft.input[n] = v * window[n]!;
    }
    level[k] = Math.sqrt(sum / size);
    fft.powers(power, count);
    for (let b = 0; b < BANDS; b++) {
      let energy = 0;
      for (let bin = edges[b]!; bin < edges[b + 1]!; bin++) energy += power[bin]!;
      const log = Math.log1p(1000 * Math.sqrt(energy));
      const rise = k === 0 ? 0 : Math.max(0, log - before[b]!);
      before[b] = log;
      all[k]! += rise / BANDS;
      if (b < lowBands) low[k]! += rise / lowBands;
    }
    for (let bin = 1; bin < count; bin++)
      if (classOf[bin]! >= 0) chroma[k * 12 + classOf[bin]!]! += Math.sqrt(power[bin]!);
  }
  return { rate: RATE, all: aboveMean(all), low: aboveMean(low), level, chroma };
}

/** What stands over the mean of its surroundings, scaled to a standard deviation of 1. */
function aboveMean(x: Float32Array): Float32Array {
  const half = Math.round((MEAN_SEC * RATE) / 2);
  const sums = new Float64Array(x.length + 1);
  for (let k = 0; k < x.length; k++) sums[k + 1] = sums[k]! + x[k]!;
  const out = x.map((v, k) => {
    const [a, b] = [Math.max(0, k - half), Math.min(x.length, k + half + 1)];
    return Math.max(0, v - (sums[b]! - sums[a]!) / (b - a));
  });
  let square = 0;
  for (const v of out) square += v * v;
  const scale = Math.sqrt(square / Math.max(1, out.length)) || 1;
  return out.map((v) => v / scale);
}
