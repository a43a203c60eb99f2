import FFT from 'fft.js';

/**
 * Discrete Fourier transform of real signals whose length is a power of two.
 *
 * A real signal of `size` samples is laid out as `size / 2` complex numbers, transformed by fft.js and
 * untangled (Press et al., Numerical Recipes, section 12.3): half the work of a complex transform.
 * All arrays are allocated once; `input` and `spectrum` are overwritten by every call.
 */
export interface RealFft {
  readonly size: number;
  /** `size / 2 + 1`: from 0 Hz to half the sample rate. */
  readonly bins: number;
  /** Write the (windowed) samples here before `forward`; `inverse` leaves its answer here. */
  readonly input: Float64Array;
  /** Interleaved real and imaginary parts, length `2 * bins`. */
  readonly spectrum: Float64Array;
  /** `input` to `spectrum`, unscaled. */
  forward(): void;
  /**
   * Squared magnitudes of the first `count` bins (at most `bins`) of `input`'s spectrum, to the last bit those of
   * `forward`; `spectrum` is left as it is. Bins that nobody asks for cost nothing.
   */
  powers(into: Float64Array, count: number): void;
  /** `spectrum` to `input`, scaled by 1 / size, so that `inverse` undoes `forward`. */
  inverse(): void;
}

/** @param size a power of two, 8 to 2^20 @throws RangeError otherwise */
export function createRealFft(size: number): RealFft {
  if (!Number.isInteger(size) || size < 8 || size > 2 ** 20 || (size & (size - 1)) !== 0)
    throw new RangeError(`FFT size must be a power of two from 8 to 1048576, got ${size}`);
  const half = size / 2;
  const scale = 1 / half;
  const complex = new FFT(half);
  const input = new Float64Array(size);
  const packed = new Float64Array(size);
  const spectrum = new Float64Array(size + 2);
  const cos = new Float64Array(half + 1);
  const sin = new Float64Array(half + 1);
  for (let k = 0; k <= half; k++) {
    cos[k] = Math.cos((2 * Math.PI * k) / size);
    sin[k] = Math.sin((2 * Math.PI * k) / size);
  }

  function forward(): void {
    complex.transform(packed as unknown as number[], input as unknown as number[]);
    const lastRe = packed[0]! - packed[1]!;
    spectrum[0] = packed[0]! + packed[1]!;
    spectrum[1] = 0;
    spectrum[size] = lastRe;
    spectrum[size + 1] = 0;
    for (let k = 1, j = half - 1; k <= j; k++, j--) {
      const ar = packed[2 * k]!;
      const ai = packed[2 * k + 1]!;
      const br = packed[2 * j]!;
      const bi = packed[2 * j + 1]!;
      const evenRe = 0.5 * (ar + br);
      const evenIm = 0.5 * (ai - bi);
      const oddRe = 0.5 * (ai + bi);
      const oddIm = 0.5 * (br - ar);
      const turnRe = oddRe * cos[k]! + oddIm * sin[k]!;
      const turnIm = oddIm * cos[k]! - oddRe * sin[k]!;
      spectrum[2 * k] = evenRe + turnRe;
      spectrum[2 * k + 1] = evenIm + turnIm;
      spectrum[2 * j] = evenRe - turnRe;
      spectrum[2 * j + 1] = turnIm - evenIm;
    }
  }

  function powers(into: Float64Array, count: number): void {
    complex.transform(packed as unknown as number[], input as unknown as number[]);
    const first = packed[0]! + packed[1]!;
    const last = packed[0]! - packed[1]!;
    if (count > 0) into[0] = first * first;
    if (count > half) into[half] = last * last;
    // Bins k and half − k are untangled from the same two numbers.
    for (let k = 1, j = half - 1; k <= j && k < count; k++, j--) {
      const ar = packed[2 * k]!;
      const ai = packed[2 * k + 1]!;
      const br = packed[2 * j]!;
      const bi = packed[2 * j + 1]!;
      const evenRe = 0.5 * (ar + br);
      const evenIm = 0.5 * (ai - bi);
      const oddRe = 0.5 * (ai + bi);
      const oddIm = 0.5 * (br - ar);
      const turnRe = oddRe * cos[k]! + oddIm * sin[k]!;
      const turnIm = oddIm * cos[k]! - oddRe * sin[k]!;
      if (j < count) {
        const re = evenRe - turnRe;
        const im = turnIm - evenIm;
        into[j] = re * re + im * im;
      }
      const re = evenRe + turnRe;
      const im = evenIm + turnIm;
      into[k] = re * re + im * im;
    }
  }

  function inverse(): void {
    packed[0] = 0.5 * (spectrum[0]! + spectrum[size]!);
    packed[1] = -0.5 * (spectrum[0]! - spectrum[size]!);
    for (let k = 1, j = half - 1; k <= j; k++, j--) {
      const ar = spectrum[2 * k]!;
      const ai = spectrum[2 * k + 1]!;
      const br = spectrum[2 * j]!;
      const bi = spectrum[2 * j + 1]!;
      const evenRe = 0.5 * (ar + br);
      const evenIm = 0.5 * (ai - bi);
      const diffRe = 0.5 * (ar - br);
      const diffIm = 0.5 * (ai + bi);
      const oddRe = diffRe * cos[k]! - diffIm * sin[k]!;
      const oddIm = diffIm * cos[k]! + diffRe * sin[k]!;
      packed[2 * k] = evenRe - oddIm;
      packed[2 * k + 1] = -evenIm - oddRe;
      packed[2 * j] = evenRe + oddIm;
      packed[2 * j + 1] = evenIm - oddRe;
    }
    // The inverse is the conjugate of the conjugate's transform: fft.js's own divides number by number.
    complex.transform(input as unknown as number[], packed as unknown as number[]);
    for (let i = 0; i < size; i += 4) {
      input[i] = input[i]! * scale;
      input[i + 1] = -input[i + 1]! * scale;
      input[i + 2] = input[i + 2]! * scale;
      input[i + 3] = -input[i + 3]! * scale;
    }
  }

  return { size, bins: half + 1, input, spectrum, forward, powers, inverse };
}
