import { HOP } from '../signal/prepared.ts';
import { createRealFft } from '../spectrum/realFft.ts';

/** Blocks in the stretch that a block is compared with, itself the first: lags up to 7 blocks. */
const STRETCH = 8;
const SIZE = STRETCH * HOP;
/** Largest lag whose products do not wrap around. */
export const LARGEST_LAG = SIZE - HOP;

/** One for all: nothing stays in it from call to call, and a short piece costs less than its tables. */
const fft = createRealFft(SIZE);

/**
 * Sums of products of each block of one hop with what lies up to 7 blocks further on: Σ x[i] x[i + τ] over the block.
 *
 * By correlation theorem, with transforms of 8 blocks, of which only each block's own is computed: a stretch's spectrum
 * is the sum of its blocks' turned by eighths of a circle, put together of two, four and eight blocks (as a radix-2
 * transform does), each of which serves later stretches as well. All of `pitchFrames` takes 0.6 of the time that it
 * took when the products were multiplied out; what rounding adds lies 270 dB under the loudest of the eight blocks.
 */
export interface BlockProducts {
  /** Products of the next block, from block 0 on, for lags 0…`out.length` − 1 (at most {@link LARGEST_LAG}). */
  next(out: Float64Array): void;
}

/** @param x whole signal, not changed; silence follows it */
export function createBlockProducts(x: Float64Array): BlockProducts {
  const { spectrum, input } = fft;
  const length = spectrum.length;
  const ring = (count: number): Float64Array[] =>
    Array.from({ length: count }, () => new Float64Array(length));
  // Single blocks, and sums of two and of four from block b on, at b modulo the rings' sizes.
  const ones = ring(STRETCH);
  const twos = ring(4);
  const fours = ring(8);
  let measured = 0;
  let block = 0;

  function measure(): void {
    const b = measured++;
    const from = b * HOP;
    for (let i = 0; i < HOP; i++) input[i] = from + i < x.length ? x[from + i]! : 0;
    input.fill(0, HOP);
    fft.forward();
    const one = ones[b % 8]!;
    one.set(spectrum);
    if (b < 1) return;
    addEighths(ones[(b - 1) % 8]!, one, twos[(b - 1) % 4]!);
    if (b < 3) return;
    addQuarters(twos[(b - 3) % 4]!, twos[(b - 1) % 4]!, fours[(b - 3) % 8]!);
  }

  return {
    next(out) {
      while (measured < block + STRETCH) measure();
      productOf(ones[block % 8]!, fours[block % 8]!, fours[(block + 4) % 8]!, spectrum);
      fft.inverse();
      out.set(input.subarray(0, out.length));
      block++;
    },
  };
}

/** out[k] = a[k] + b[k] · exp(−2πik / 8), complex, for k = 0…512. */
function addEighths(a: Float64Array, b: Float64Array, out: Float64Array): void {
  const h = Math.SQRT1_2;
  const last = out.length - 2;
  for (let i = 0; i < last; i += 16) {
    out[i] = a[i]! + b[i]!;
    out[i + 1] = a[i + 1]! + b[i + 1]!;
    let re = h * (b[i + 2]! + b[i + 3]!);
    let im = h * (b[i + 3]! - b[i + 2]!);
    out[i + 2] = a[i + 2]! + re;
    out[i + 3] = a[i + 3]! + im;
    out[i + 4] = a[i + 4]! + b[i + 5]!;
    out[i + 5] = a[i + 5]! - b[i + 4]!;
    re = h * (b[i + 7]! - b[i + 6]!);
    im = h * (b[i + 6]! + b[i + 7]!);
    out[i + 6] = a[i + 6]! + re;
    out[i + 7] = a[i + 7]! - im;
    out[i + 8] = a[i + 8]! - b[i + 8]!;
    out[i + 9] = a[i + 9]! - b[i + 9]!;
    re = h * (b[i + 10]! + b[i + 11]!);
    im = h * (b[i + 11]! - b[i + 10]!);
    out[i + 10] = a[i + 10]! - re;
    out[i + 11] = a[i + 11]! - im;
    out[i + 12] = a[i + 12]! - b[i + 13]!;
    out[i + 13] = a[i + 13]! + b[i + 12]!;
    re = h * (b[i + 15]! - b[i + 14]!);
    im = h * (b[i + 14]! + b[i + 15]!);
    out[i + 14] = a[i + 14]! - re;
    out[i + 15] = a[i + 15]! + im;
  }
  out[last] = a[last]! + b[last]!;
  out[last + 1] = 0;
}

/** out[k] = a[k] + b[k] · exp(−2πik / 4). */
function addQuarters(a: Float64Array, b: Float64Array, out: Float64Array): void {
  const last = out.length - 2;
  for (let i = 0; i < last; i += 8) {
    out[i] = a[i]! + b[i]!;
    out[i + 1] = a[i + 1]! + b[i + 1]!;
    out[i + 2] = a[i + 2]! + b[i + 3]!;
    out[i + 3] = a[i + 3]! - b[i + 2]!;
    out[i + 4] = a[i + 4]! - b[i + 4]!;
    out[i + 5] = a[i + 5]! - b[i + 5]!;
    out[i + 6] = a[i + 6]! - b[i + 7]!;
    out[i + 7] = a[i + 7]! + b[i + 6]!;
  }
  out[last] = a[last]! + b[last]!;
  out[last + 1] = 0;
}

/** out = conj(one) · (near ± far): far is turned by half a circle for each bin. */
function productOf(one: Float64Array, near: Float64Array, far: Float64Array, out: Float64Array): void {
  for (let i = 0; i < out.length; i += 2) {
    const sign = i & 2 ? -1 : 1;
    const re = near[i]! + sign * far[i]!;
    const im = near[i + 1]! + sign * far[i + 1]!;
    const a = one[i]!;
    const b = one[i + 1]!;
    out[i] = a * re + b * im;
    out[i + 1] = a * im - b * re;
  }
}
