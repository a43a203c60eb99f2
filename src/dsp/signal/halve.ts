import { createSimd, type Simd } from '../simd/instance.ts';
import { floats } from './workspace.ts';

/** Half-band low-pass taps at odd distances 1, 3, 5 …: Blackman-windowed sinc, 12 a side. */
const SIDE = Float64Array.from({ length: 12 }, (_, i) => {
  const x = 2 * i + 1;
  const arg = (Math.PI * x) / 2;
  const taper = 0.42 + 0.5 * Math.cos((Math.PI * x) / 25) + 0.08 * Math.cos((2 * Math.PI * x) / 25);
  return ((0.5 * Math.sin(arg)) / arg) * taper;
});
/** Samples on either side that an output sample depends on. */
const REACH = 2 * SIDE.length - 1;

/**
 * The filtered values at `at`, and two, four and six samples further on, into four places of `out`; the caller sees to it
 * that {@link REACH} samples lie on either side. Four sums do not wait for one another's additions.
 */
function filterFour(x: Float64Array, at: number, out: Float32Array, to: number): void {
  let a = 0.5 * x[at]!;
  let b = 0.5 * x[at + 2]!;
  let c = 0.5 * x[at + 4]!;
  let e = 0.5 * x[at + 6]!;
  for (let i = 0, d = 1; i < SIDE.length; i++, d += 2) {
    const w = SIDE[i]!;
    const low = at - d;
    const high = at + d;
    a += w * (x[low]! + x[high]!);
    b += w * (x[low + 2]! + x[high + 2]!);
    c += w * (x[low + 4]! + x[high + 4]!);
    e += w * (x[low + 6]! + x[high + 6]!);
  }
  out[to] = a;
  out[to + 1] = b;
  out[to + 2] = c;
  out[to + 3] = e;
}

/** One of them. */
function filtered(x: Float64Array, at: number): number {
  let sum = 0.5 * x[at]!;
  for (let i = 0, d = 1; i < SIDE.length; i++, d += 2) sum += SIDE[i]! * (x[at - d]! + x[at + d]!);
  return sum;
}

/** Halves a stream: `push` emits half-rate samples as soon as the filter's reach has been heard. */
export interface Halver {
  push(block: Float32Array, emit: (half: Float32Array) => void): void;
  /** The end counts as followed by silence; emits the rest: ceil(input / 2) samples in all. */
  finish(emit: (half: Float32Array) => void): void;
}

/** Half the samples, free of what would alias; output m stands for input sample 2 m, whatever the blocks. */
export function createHalver(): Halver {
  // Doubles, so that no sample is converted more than once.
  const held = new Float64Array(4096 + 2 * REACH);
  const out = new Float32Array(held.length / 2 + 4);
  // The stream is preceded by silence; the first output is centred on held[REACH].
  let filled = REACH;
  let received = 0;
  let emitted = 0;

  function drain(emit: (half: Float32Array) => void, limit: number): void {
    let count = 0;
    let centre = REACH;
    for (; centre + 6 + REACH < filled && emitted + count + 4 <= limit; centre += 8, count += 4)
      filterFour(held, centre, out, count);
    for (; centre + REACH < filled && emitted + count < limit; centre += 2)
      out[count++] = filtered(held, centre);
    held.copyWithin(0, 2 * count, filled);
    filled -= 2 * count;
    emitted += count;
    if (count > 0) emit(out.subarray(0, count));
  }

  return {
    push(block, emit) {
      for (let at = 0; at < block.length;) {
        const take = Math.min(block.length - at, held.length - filled);
        held.set(block.subarray(at, at + take), filled);
        filled += take;
        received += take;
        at += take;
        drain(emit, Infinity);
      }
    },
    finish(emit) {
      held.fill(0, filled, filled + REACH + 1);
      filled += REACH + 1;
      drain(emit, Math.ceil(received / 2));
    },
  };
}

/** A whole signal halved as a stream, in plain code: ceil(length / 2) samples. */
export function plainHalve(input: Float32Array): Float32Array {
  const out = floats(Math.ceil(input.length / 2));
  let at = 0;
  const emit = (part: Float32Array): void => {
    out.set(part, at);
    at += part.length;
  };
  const halver = createHalver();
  halver.push(input, emit);
  halver.finish(emit);
  return out;
}

/** Samples that are handed out at once, a multiple of eight. */
const CHUNK = 2048;
/** On either side of a chunk. */
const BESIDE = 2 * SIDE.length;
let filter: Simd<'samples' | 'side' | 'even' | 'odd' | 'out'> | null | undefined;
function makeFilter(): typeof filter {
  const wide = 2 * (CHUNK + BESIDE);
  const made = createSimd({ samples: wide, side: 2 * SIDE.length, even: wide, odd: wide, out: CHUNK });
  made?.doubles.side.set(SIDE);
  return made;
}

/** Eight at a time (`simd/kernels`), to the last bit as {@link plainHalve}; null where that cannot be run. */
export function simdHalve(input: Float32Array): Float32Array | null {
  filter = filter === undefined ? makeFilter() : filter;
  if (!filter) return null;
  const { run, at, floats: single } = filter;
  const out = floats(Math.ceil(input.length / 2));
  const heard = single.samples;
  for (let done = 0; done < out.length; done += CHUNK) {
    const first = 2 * done - BESIDE;
    const begin = Math.max(0, first);
    const until = Math.min(input.length, first + heard.length);
    if (first < 0 || until < first + heard.length) heard.fill(0);
    heard.set(input.subarray(begin, until), begin - first);
    run.halve(at.samples, CHUNK, at.side, SIDE.length, at.even, at.odd, at.out);
    out.set(single.out.subarray(0, Math.min(CHUNK, out.length - done)), done);
  }
  return out;
}

/** The faster of the two that runs here: ceil(length / 2) samples. */
export const halve = (input: Float32Array): Float32Array => simdHalve(input) ?? plainHalve(input);
