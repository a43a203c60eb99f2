import { multiply, powerOfTwo, realInverse, realSpectrum } from './bigFft.ts';

/**
 * Causal convolution by overlap-save: y[n] = Σ h[k] x[n − k], same length as `x`.
 * @param response `h`, at least one sample.
 */
export function convolve(signal: ArrayLike<number>, response: ArrayLike<number>): Float64Array {
  const size = powerOfTwo(Math.max(4096, 4 * response.length));
  const step = size - response.length + 1;
  const h = realSpectrum(response, size);
  const out = new Float64Array(signal.length);
  for (let start = 0; start < signal.length; start += step) {
    const from = start - (response.length - 1);
    const block = realInverse(
      multiply(realSpectrum(signal, size, from, Math.min(from + size, signal.length)), h),
    );
    const end = Math.min(start + step, signal.length);
    for (let n = start; n < end; n++) out[n] = block[n - from];
  }
  return out;
}

/**
 * Cross-correlation c[k] = Σₙ y[n + k] x[n] for k = 0…maxLag − 1, in blocks, so that long signals
 * need no long transform.
 */
export function correlate(y: ArrayLike<number>, x: ArrayLike<number>, maxLag: number): Float64Array {
  const size = powerOfTwo(Math.max(8192, 4 * maxLag));
  const step = size - maxLag;
  const sum = new Float64Array(size + 2);
  const length = Math.max(x.length, y.length);
  for (let start = 0; start < length; start += step) {
    const xs = realSpectrum(x, size, start, Math.min(start + step, x.length));
    const ys = realSpectrum(y, size, start, Math.min(start + size, y.length));
    const product = multiply(ys, xs, true);
    for (let i = 0; i < sum.length; i++) sum[i] += product[i];
  }
  return realInverse(sum).slice(0, maxLag);
}
