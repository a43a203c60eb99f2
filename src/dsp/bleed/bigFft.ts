import FFT from 'fft.js';

/** Transforms of a real signal, one object a size, kept: making one costs more than using it. */
const plans = new Map<number, FFT>();

function plan(size: number): FFT {
  let fft = plans.get(size);
  if (!fft) plans.set(size, (fft = new FFT(size)));
  return fft;
}

/** Interleaved complex spectrum (re, im, re, im …), length 2 × size, both halves filled. */
export type Spectrum = Float64Array;

/** Smallest power of two ≥ `length` (and ≥ 2, fft.js's own floor is 2). */
export const powerOfTwo = (length: number): number => 2 ** Math.max(1, Math.ceil(Math.log2(length)));

/** Spectrum of `signal[from…to)`, zero-padded to `size` (a power of two ≥ to − from). */
export function realSpectrum(
  signal: ArrayLike<number>,
  size: number,
  from = 0,
  to = signal.length,
): Spectrum {
  if (to - from > size) throw new RangeError(`${to - from} samples do not fit a transform of ${size}`);
  const fft = plan(size);
  const input = new Float64Array(size);
  for (let i = Math.max(0, from); i < to; i++) input[i - from] = signal[i] ?? 0;
  const out = new Float64Array(2 * size);
  fft.realTransform(out as unknown as number[], input as unknown as number[]);
  fft.completeSpectrum(out as unknown as number[]);
  return out;
}

/** Real part of the inverse transform, length `size`. */
export function realInverse(spectrum: Spectrum): Float64Array {
  const size = spectrum.length / 2;
  const out = new Float64Array(2 * size);
  plan(size).inverseTransform(out as unknown as number[], spectrum as unknown as number[]);
  const real = new Float64Array(size);
  for (let i = 0; i < size; i++) real[i] = out[2 * i];
  return real;
}

/** a·b, or a·conj(b), bin by bin, into a new spectrum. */
export function multiply(a: Spectrum, b: Spectrum, conjugateB = false): Spectrum {
  const out = new Float64Array(a.length);
  const sign = conjugateB ? -1 : 1;
  for (let i = 0; i < a.length; i += 2) {
    const br = b[i];
    const bi = sign * b[i + 1];
    out[i] = a[i] * br - a[i + 1] * bi;
    out[i + 1] = a[i] * bi + a[i + 1] * br;
  }
  return out;
}
