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

/** Zero crossings on either side: with the Kaiser window below a tone keeps its place within −60 dB (test). */
const HALF_WIDTH = 16;
/** Pass band as a share of the lower Nyquist frequency: leaves 8 % for the transition. */
const CUTOFF = 0.94;
const KAISER_BETA = 8;

function besselI0(x: number): number {
  let sum = 1;
  let term = 1;
  for (let k = 1; k < 30; k++) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
}

function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
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

  const divisor = gcd(source, target);
  const phases = target / divisor;
  const step = source / divisor;
  const cutoff = CUTOFF * Math.min(1, target / source);
  const reach = Math.ceil(HALF_WIDTH / cutoff);
  const taps = 2 * reach;
  const rows = new Float32Array(phases * taps);
  const norm = besselI0(KAISER_BETA);
  for (let p = 0; p < phases; p++)
    for (let t = 0; t < taps; t++) {
      // Row p serves an instant p / phases after input sample (reach − 1) of its window.
      const x = t - (reach - 1) - p / phases;
      const u = x / reach;
      const window = Math.abs(u) >= 1 ? 0 : besselI0(KAISER_BETA * Math.sqrt(1 - u * u)) / norm;
      const arg = Math.PI * cutoff * x;
      rows[p * taps + t] = (x === 0 ? cutoff : (cutoff * Math.sin(arg)) / arg) * window;
    }

  const CHUNK = 4096;
  const held = new Float32Array(taps + CHUNK);
  /** Absolute index of held[0]; the stream is preceded by silence. */
  let first = -(reach - 1);
  let filled = reach - 1;
  let received = 0;
  let whole = 0; // input index at or before the next output instant
  let phase = 0;
  const out = new Float32Array(CHUNK);

  function drain(emit: (out: Float32Array) => void, lastWhole: number): void {
    let count = 0;
    while (whole <= lastWhole && whole + reach < first + filled) {
      const base = whole - (reach - 1) - first;
      const row = phase * taps;
      let sum = 0;
      for (let t = 0; t < taps; t++) sum += held[base + t]! * rows[row + t]!;
      out[count++] = sum;
      if (count === out.length) {
        emit(out.subarray(0, count));
        count = 0;
      }
      phase += step;
      const jump = Math.floor(phase / phases);
      whole += jump;
      phase -= jump * phases;
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
