import { peakOffset } from '../../music/numbers.ts';
import { energy } from './arithmetic.ts';
import { inverse, multiplyInto, powerOfTwo, transform, type Spectrum } from './bigFft.ts';

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

/** One stretch's weighted cross-correlation; index k is lag k − `back`. `held` keeps what was sent's spectrum meanwhile. */
function weighted(
  heard: Float64Array,
  sent: Float64Array,
  from: number,
  length: number,
  back: number,
  reach: number,
  rate: number,
  held: Float64Array,
): Float64Array {
  const size = held.length - 2;
  held.set(transform(sent, size, from, Math.min(from + length, sent.length)));
  const g = transform(heard, size, from - back, Math.min(from + length + reach, heard.length));
  multiplyInto(g, held, true);
  let mean = 0;
  for (let i = 0; i < g.length; i += 2) mean += magnitudeAt(g, i);
  const floor = (mean / (size / 2)) * 1e-3 + 1e-300;
  for (let i = 0; i < g.length; i += 2) {
    const hertz = ((i / 2) * rate) / size;
    const w = hertz < BAND_HZ[0] || hertz > BAND_HZ[1] ? 0 : 1 / (magnitudeAt(g, i) + floor) ** WHITENING;
    g[i]! *= w;
    g[i + 1]! *= w;
  }
  return inverse(size).slice(0, back + reach);
}

function peakOf(c: Float64Array, from: number, to: number): { place: number; height: number } {
  let best = from;
  for (let k = from; k < to; k++) if (c[k]! > c[best]!) best = k;
  const height = c[best]!;
  return { place: best + peakOffset(c[best - 1] ?? 0, height, c[best + 1] ?? 0), height };
}

const rms = (c: Float64Array): number => Math.sqrt(energy(c) / c.length);

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
  /**
   * A peak so sure is followed wherever it lies, where none half as sure lies by the common lag and {@link ROW} stretches
   * on end have it there; absent: none is.
   */
  readonly farSureness?: number;
}

/**
 * The lag of each stretch, searched around the lag that all stretches together agree on.
 * Stretches in which nothing was sent are left out. Empty when nothing was sent at all.
 */
export function segmentLags(heard: Float64Array, sent: Float64Array, options: LagOptions): Lag[] {
  const { rate, farSureness } = options;
  const back = Math.max(0, Math.ceil(-options.fromSec * rate));
  const reach = Math.ceil(options.toSec * rate);
  const length = Math.round(options.stretchSec * rate);
  const step = Math.round(options.stepSec * rate);
  const found: { at: number; c: Float64Array }[] = [];
  const held = new Float64Array(powerOfTwo(length + back + reach) + 2);
  for (let from = 0; from + length / 2 < sent.length; from += step) {
    let energy = 0;
    for (let n = from; n < Math.min(from + length, sent.length); n++) energy += sent[n]! * sent[n]!;
    // −80 dBFS: digital silence with dither, e.g. the practice window.
    if (energy < length * 1e-8) continue;
    const c = weighted(heard, sent, from, length, back, reach, rate, held);
    const scale = rms(c);
    if (!(scale > 0)) continue;
    for (let k = 0; k < c.length; k++) c[k]! /= scale;
    found.push({ at: from + length / 2, c });
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
  const near = found.map(({ at, c }) => {
    const from = Math.max(1, best - spread);
    const { place, height } = peakOf(c, from, Math.min(c.length - 1, best + spread + 1));
    return { at, lag: place - back, sureness: height };
  });
  if (farSureness === undefined) return near;
  const far = found.map(({ at, c }, i): Lag | null => {
    const { place, height } = peakOf(c, 1, c.length - 1);
    return height >= Math.max(farSureness, 2 * near[i]!.sureness)
      ? { at, lag: place - back, sureness: height }
      : null;
  });
  return near.map((lag, i) => (inRow(far, i, 0.0005 * rate) ? far[i]! : lag));
}

/** How many stretches on end must agree on a lag that is not the common one. */
const ROW = 4;

/** Is the lag at `i` one of a row that agree to within so many samples? */
function inRow(lags: readonly (Lag | null)[], i: number, within: number): boolean {
  const here = lags[i];
  if (!here) return false;
  const agrees = (k: number): boolean => {
    const other = lags[k];
    return other !== null && other !== undefined && Math.abs(other.lag - here.lag) <= within;
  };
  let count = 1;
  for (let k = i - 1; agrees(k); k--) count++;
  for (let k = i + 1; agrees(k); k++) count++;
  return count >= ROW;
}
