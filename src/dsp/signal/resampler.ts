import { resamplingRows } from './resamplingRows.ts';

/**
 * Band-limited change of sample rate for a stream of blocks.
 *
 * Polyphase windowed sinc (Smith, "Digital Audio Resampling", CCRMA): one row of coefficients for each
 * of the `to / gcd(from, to)` output phases. Output sample m stands for the instant m / to of the input:
 * no delay, except that the last samples come with `finish`. The answer does not depend on block sizes.
 */
export interface Resampler {
  /** Feeds `block`; calls `emit` with a view of new output samples (valid during the call only). */
  push(block: Float32Array, emit: (out: Float32Array) => void): void;
  /** The end of the stream counts as followed by silence; emits what is left. */
  finish(emit: (out: Float32Array) => void): void;
}

/** out[at + m] = Σ held[bm + t] · rows[rm + t] over t < taps. Its four sums do not wait for one another's additions. */
function fourSums(
  held: Float64Array,
  b0: number,
  b1: number,
  b2: number,
  b3: number,
  rows: Float32Array,
  r0: number,
  r1: number,
  r2: number,
  r3: number,
  taps: number,
  out: Float32Array,
  at: number,
): void {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  for (let t = 0; t < taps; t++) {
    s0 += held[b0 + t]! * rows[r0 + t]!;
    s1 += held[b1 + t]! * rows[r1 + t]!;
    s2 += held[b2 + t]! * rows[r2 + t]!;
    s3 += held[b3 + t]! * rows[r3 + t]!;
  }
  out[at] = s0;
  out[at + 1] = s1;
  out[at + 2] = s2;
  out[at + 3] = s3;
}

/**
 * @param from input rate, whole hertz, 8000 to 192000 (fractions are rounded)
 * @param to output rate, same range
 * @throws RangeError outside the range
 */
export function createResampler(from: number, to: number): Resampler {
  for (const rate of [from, to])
    if (!(rate >= 2000 && rate <= 192_000))
      throw new RangeError(`sample rate must be 2000 to 192000 Hz, got ${rate}`);
  const source = Math.round(from);
  const target = Math.round(to);
  if (source === target) return { push: (block, emit) => emit(block), finish: () => undefined };

  const { phases, step, reach, taps, rows } = resamplingRows(source, target);
  const CHUNK = 4096;
  // Doubles, so that the loop below converts no sample more than once.
  const held = new Float64Array(taps + CHUNK);
  /** Absolute index of held[0]; the stream is preceded by silence. */
  let first = -(reach - 1);
  let filled = reach - 1;
  let received = 0;
  let whole = 0; // input index at or before the next output instant
  let phase = 0;
  const out = new Float32Array(CHUNK);

  /** Moves on to the next output instant. */
  function advance(): void {
    phase += step;
    const jump = Math.floor(phase / phases);
    whole += jump;
    phase -= jump * phases;
  }

  /** Three output instants on, the window still ends by `last`. */
  const fourEndBy = (last: number): boolean => whole + Math.floor((phase + 3 * step) / phases) <= last;

  function drain(emit: (out: Float32Array) => void, lastWhole: number): void {
    let count = 0;
    const last = Math.min(lastWhole, first + filled - reach - 1);
    const toHeld = reach - 1 + first;
    while (fourEndBy(last)) {
      const b0 = whole - toHeld;
      const r0 = phase * taps;
      advance();
      const b1 = whole - toHeld;
      const r1 = phase * taps;
      advance();
      const b2 = whole - toHeld;
      const r2 = phase * taps;
      advance();
      const b3 = whole - toHeld;
      const r3 = phase * taps;
      advance();
      fourSums(held, b0, b1, b2, b3, rows, r0, r1, r2, r3, taps, out, count);
      count += 4;
      if (count > out.length - 4) {
        emit(out.subarray(0, count));
        count = 0;
      }
    }
    while (whole <= last) {
      const base = whole - toHeld;
      const row = phase * taps;
      let sum = 0;
      for (let t = 0; t < taps; t++) sum += held[base + t]! * rows[row + t]!;
      out[count++] = sum;
      if (count === out.length) {
        emit(out.subarray(0, count));
        count = 0;
      }
      advance();
    }
    if (count > 0) emit(out.subarray(0, count));
    const drop = Math.min(filled, Math.max(0, whole - (reach - 1) - first));
    held.copyWithin(0, drop, filled);
    first += drop;
    filled -= drop;
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
      const last = received - 1;
      for (let left = reach + 1; left > 0;) {
        const take = Math.min(left, held.length - filled);
        held.fill(0, filled, filled + take);
        filled += take;
        left -= take;
        drain(emit, last);
        if (take === 0) break;
      }
    },
  };
}
