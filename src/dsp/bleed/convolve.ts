import { doubles } from '../signal/workspace.ts';
import { multiplyInto, plan, powerOfTwo, realSpectrum, transform, type Spectrum } from './bigFft.ts';

/**
 * Causal convolution by overlap-save: y[n] = Σ h[k] x[n − k], same length as `x`.
 * @param response `h`, at least one sample.
 */
export function convolve(signal: ArrayLike<number>, response: ArrayLike<number>): Float64Array {
  const out = doubles(signal.length);
  convolveInto((start, block) => out.set(block, start), signal, response);
  return out;
}

/** The same block by block: `take` is given where a block begins, and a view of it that the next one overwrites. */
export function convolveInto(
  take: (start: number, block: Float64Array) => void,
  signal: ArrayLike<number>,
  response: ArrayLike<number>,
): void {
  const size = powerOfTwo(Math.max(4096, 4 * response.length));
  const step = size - response.length + 1;
  const h = realSpectrum(response, size);
  const fft = plan(size);
  for (let start = 0; start < signal.length; start += step) {
    const from = start - (response.length - 1);
    transform(signal, size, from, Math.min(from + size, signal.length));
    multiplyInto(fft.spectrum, h);
    fft.inverse();
    const end = Math.min(start + step, signal.length);
    take(start, fft.input.subarray(start - from, end - from) as Float64Array);
  }
}

/** A correlation with one signal that stays the same while the other changes. */
export interface Correlator {
  /** c[k] = Σₙ y[n + k] x[n] for k = 0…maxLag − 1. */
  correlate(y: ArrayLike<number>): Float64Array;
}

/**
 * Cross-correlation with `x`, in blocks, so that long signals need no long transform; the spectra of `x`
 * are kept.
 */
export function createCorrelator(x: ArrayLike<number>, maxLag: number): Correlator {
  const size = powerOfTwo(Math.max(8192, 4 * maxLag));
  const step = size - maxLag;
  const blocks: Spectrum[] = [];
  for (let start = 0; start < x.length; start += step)
    blocks.push(realSpectrum(x, size, start, Math.min(start + step, x.length)));
  return {
    correlate(y) {
      const fft = plan(size);
      const sum = new Float64Array(size + 2);
      blocks.forEach((xs, b) => {
        const start = b * step;
        transform(y, size, start, Math.min(start + size, y.length));
        const ys = fft.spectrum;
        for (let i = 0; i < sum.length; i += 2) {
          const xr = xs[i]!;
          const xi = xs[i + 1]!;
          const yr = ys[i]!;
          const yi = ys[i + 1]!;
          sum[i]! += yr * xr + yi * xi;
          sum[i + 1]! += yi * xr - yr * xi;
        }
      });
      fft.spectrum.set(sum);
      fft.inverse();
      return fft.input.slice(0, maxLag);
    },
  };
}

/** Cross-correlation c[k] = Σₙ y[n + k] x[n] for k = 0…maxLag − 1. */
export const correlate = (y: ArrayLike<number>, x: ArrayLike<number>, maxLag: number): Float64Array =>
  createCorrelator(x, maxLag).correlate(y);
