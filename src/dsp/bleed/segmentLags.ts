import { peakOffset } from '../../music/numbers.ts';
import { multiply, powerOfTwo, realInverse, realSpectrum, type Spectrum } from './bigFft.ts';

/** How far the recording lags behind the reference around one place. */
export interface Lag {
  /** Centre of the stretch compared, samples. */
  readonly at: number;
  /** Recording minus reference, samples, fractional. */
  readonly lag: number;
  /** Peak of the correlation over its r.m.s. away from the peak: about 4 by chance, > 8 is sure. */
  readonly sureness: number;
}

/**
 * Weight of the cross-spectrum's magnitude: |G|^−0.8. 1 is PHAT (Knapp & Carter 1976), which follows
 * noise in empty bins; 0 is plain correlation, which follows the loudest reflection or bass note.
 */
const WHITENING = 0.8;
/** Below, rooms boom and small loudspeakers are silent; above, directional and noisy. Hz. */
const BAND_HZ = [150, 9000] as const;

const magnitudeAt = (g: Spectrum, i: number): number => Math.sqrt(g[i]! ** 2 + g[i + 1]! ** 2);

/** One stretch's weighted cross-correlation; index k is lag k − `back`. */
function weighted(
  heard: Float64Array,
  sent: Float64Array,
  from: number,
  length: number,
  back: number,
  reach: number,
  rate: number,
): Float64Array {
  const size = powerOfTwo(length + back + reach);
  const s = realSpectrum(sent, size, from, Math.min(from + length, sent.length));
  const h = realSpectrum(heard, size, from - back, Math.min(from + length + reach, heard.length));
  const g = multiply(h, s, true);
  let mean = 0;
  for (let i = 0; i < g.length; i += 2) mean += magnitudeAt(g, i);
  const floor = (mean / (size / 2)) * 1e-3 + 1e-300;
  for (let i = 0; i < g.length; i += 2) {
    const hertz = ((i / 2) * rate) / size;
    const w = hertz < BAND_HZ[0] || hertz > BAND_HZ[1] ? 0 : 1 / (magnitudeAt(g, i) + floor) ** WHITENING;
    g[i]! *= w;
    g[i + 1]! *= w;
  }
  return realInverse(g).subarray(0, back + reach);
}

function peakOf(c: Float64Array, from: number, to: number): { place: number; height: number } {
  let best = from;
  for (let k = from; k < to; k++) if (c[k]! > c[best]!) best = k;
  const height = c[best]!;
  return { place: best + peakOffset(c[best - 1] ?? 0, height, c[best + 1] ?? 0), height };
}

const rms = (c: Float64Array): number => Math.sqrt(c.reduce((sum, v) => sum + v * v, 0) / c.length);

export interface LagOptions {
  readonly rate: number;
  /** Lags looked for, seconds. */
  readonly fromSec: number;
  readonly toSec: number;
  /** Length of a stretch and step between stretches, seconds. */
  readonly stretchSec: number;
  readonly stepSec: number;
  /** How far single stretches may lie from the common lag, seconds: drift and glitches together. */
  readonly spreadSec: number;
}

/**
 * The lag of each stretch, searched around the lag that all stretches together agree on.
 * Stretches in which nothing was sent are left out. Empty when nothing was sent at all.
 */
export function segmentLags(heard: Float64Array, sent: Float64Array, options: LagOptions): Lag[] {
  const { rate } = options;
  const back = Math.max(0, Math.ceil(-options.fromSec * rate));
  const reach = Math.ceil(options.toSec * rate);
  const length = Math.round(options.stretchSec * rate);
  const step = Math.round(options.stepSec * rate);
  const found: { at: number; c: Float64Array }[] = [];
  for (let from = 0; from + length / 2 < sent.length; from += step) {
    let energy = 0;
    for (let n = from; n < Math.min(from + length, sent.length); n++) energy += sent[n]! * sent[n]!;
    // −80 dBFS: digital silence with dither, e.g. the practice window.
    if (energy < length * 1e-8) continue;
    const c = weighted(heard, sent, from, length, back, reach, rate);
    const scale = rms(c);
    if (scale > 0) found.push({ at: from + length / 2, c: c.map((v) => v / scale) });
  }
  if (found.length === 0) return [];
  // Rectified, squared and smeared by the spread allowed, so that drift does not hide the common peak.
  const pooled = new Float64Array(back + reach);
  for (const { c } of found) for (let k = 0; k < c.length; k++) if (c[k]! > 0) pooled[k]! += c[k]! * c[k]!;
  const smear = Math.max(1, Math.round(0.0005 * rate));
  let best = 0;
  let bestSum = -1;
  for (let k = 0; k < pooled.length; k++) {
    let sum = 0;
    for (let j = Math.max(0, k - smear); j <= Math.min(pooled.length - 1, k + smear); j++) sum += pooled[j]!;
    if (sum > bestSum) [best, bestSum] = [k, sum];
  }
  const spread = Math.round(options.spreadSec * rate);
  return found.map(({ at, c }) => {
    const { place, height } = peakOf(
      c,
      Math.max(1, best - spread),
      Math.min(c.length - 1, best + spread + 1),
    );
    return { at, lag: place - back, sureness: height };
  });
}
