import { createRealFft, type RealFft } from '../spectrum/realFft.ts';

/** Transforms by size, kept: making one costs more than using it. */
const plans = new Map<number, RealFft>();

export function plan(size: number): RealFft {
  let fft = plans.get(size);
  if (!fft) plans.set(size, (fft = createRealFft(size)));
  return fft;
}

/** Interleaved complex half spectrum (re, im, re, im …) from 0 Hz to Nyquist, length size + 2. */
export type Spectrum = Float64Array;

/** Smallest power of two ≥ `length`, at least 8. */
export const powerOfTwo = (length: number): number => 2 ** Math.max(3, Math.ceil(Math.log2(length)));

/**
 * Transforms `signal[from…to)`, zero-padded to `size` (a power of two ≥ to − from), into the plan's own
 * `spectrum`, which the next transform of that size overwrites.
 */
export function transform(signal: ArrayLike<number>, size: number, from = 0, to = signal.length): Spectrum {
  if (to - from > size) throw new RangeError(`${to - from} samples do not fit a transform of ${size}`);
  const fft = plan(size);
  const first = Math.max(0, from);
  const last = Math.max(first, Math.min(to, signal.length));
  fft.input.fill(0, 0, first - from);
  for (let i = first; i < last; i++) fft.input[i - from] = signal[i]!;
  fft.input.fill(0, last - from);
  fft.forward();
  return fft.spectrum as Spectrum;
}

/** The same, into a spectrum of its own. */
export const realSpectrum = (
  signal: ArrayLike<number>,
  size: number,
  from = 0,
  to = signal.length,
): Spectrum => transform(signal, size, from, to).slice();

/** The real signal of the spectrum that {@link transform} gave: the plan's own memory too. */
export function inverse(size: number): Float64Array {
  const fft = plan(size);
  fft.inverse();
  return fft.input as Float64Array;
}

/** The real signal of a spectrum, length `size`. */
export function realInverse(spectrum: Spectrum): Float64Array {
  const fft = plan(spectrum.length - 2);
  fft.spectrum.set(spectrum);
  fft.inverse();
  return fft.input.slice();
}

/** a·b, or a·conj(b), bin by bin, into a new spectrum. (No pairs are unpacked here: that made two arrays a bin.) */
export function multiply(a: Spectrum, b: Spectrum, conjugateB = false): Spectrum {
  const out = new Float64Array(a.length);
  const sign = conjugateB ? -1 : 1;
  for (let i = 0; i < a.length; i += 2) {
    const ar = a[i]!;
    const ai = a[i + 1]!;
    const br = b[i]!;
    const bi = sign * b[i + 1]!;
    out[i] = ar * br - ai * bi;
    out[i + 1] = ar * bi + ai * br;
  }
  return out;
}

/** a ← a·b, or a·conj(b), bin by bin. */
export function multiplyInto(a: Spectrum, b: Spectrum, conjugateB = false): void {
  const sign = conjugateB ? -1 : 1;
  for (let i = 0; i < a.length; i += 2) {
    const ar = a[i]!;
    const ai = a[i + 1]!;
    const br = b[i]!;
    const bi = sign * b[i + 1]!;
    a[i] = ar * br - ai * bi;
    a[i + 1] = ar * bi + ai * br;
  }
}
