/**
 * Reads a signal at fractional places with a windowed sinc: band-limited resampling, fractional
 * delay and drift in one (Smith, "Digital audio resampling": Kaiser-windowed sinc, table look-up).
 */
const HALF_TAPS = 16;
/** Rows per sample. The nearest is at most 1/16384 sample off: at 8 kHz of 24 kHz that is π/24576 or −78 dB. */
const STEPS = 8192;
/** Kaiser β = 9: stop-band about −90 dB. */
const BETA = 9;

function besselI0(x: number): number {
  let sum = 1;
  let term = 1;
  for (let k = 1; term > 1e-12 * sum; k++) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
}

interface Kernel {
  readonly reach: number;
  /** Taps a row: a place between samples reaches `reach` to either side. */
  readonly taps: number;
  /** One row of taps for each of `STEPS` + 1 fractions 0…1 of a sample. */
  readonly rows: Float64Array;
}

const kernels = new Map<number, Kernel>();

/** The kernel for `cutoff`, as share of Nyquist, laid out row by row so that reading needs no look-up a tap. */
function kernel(cutoff: number): Kernel {
  const key = Math.round(cutoff * 1e6);
  const known = kernels.get(key);
  if (known) return known;
  const reach = Math.ceil(HALF_TAPS / cutoff);
  const taps = 2 * reach;
  const rows = new Float64Array((STEPS + 1) * taps);
  for (let step = 0; step <= STEPS; step++)
    for (let i = 0; i < taps; i++) {
      // Row `step` reads at floor(place) + step / STEPS; its first tap is at floor(place) − reach + 1.
      const x = i - (reach - 1) - step / STEPS;
      const edge = Math.abs(x) / reach;
      const window = edge >= 1 ? 0 : besselI0(BETA * Math.sqrt(1 - edge * edge)) / besselI0(BETA);
      const arg = Math.PI * x * cutoff;
      rows[step * taps + i] = cutoff * (arg === 0 ? 1 : Math.sin(arg) / arg) * window;
    }
  const made = { reach, taps, rows };
  kernels.set(key, made);
  return made;
}

/**
 * out[n] = signal at place `at(n)`, in input samples; zero outside the signal.
 * @param cutoff share of the input's Nyquist frequency that is kept, 0…1 (1 for no change of rate).
 */
export function warp(
  signal: ArrayLike<number>,
  length: number,
  at: (n: number) => number,
  cutoff = 1,
): Float64Array {
  if (!(cutoff > 0 && cutoff <= 1)) throw new RangeError(`cutoff must be in (0, 1], got ${cutoff}`);
  const { reach, taps, rows } = kernel(cutoff);
  const out = new Float64Array(length);
  const last = signal.length - 1;
  for (let n = 0; n < length; n++) {
    const place = at(n);
    const whole = Math.floor(place);
    const row = Math.round((place - whole) * STEPS) * taps;
    const start = whole - reach + 1;
    const from = start < 0 ? -start : 0;
    const to = Math.min(taps, last - start + 1);
    let sum = 0;
    for (let i = from; i < to; i++) sum += signal[start + i]! * rows[row + i]!;
    out[n] = sum;
  }
  return out;
}

/** Change of sample rate without change of time; passes up to 92 % of the lower Nyquist frequency. */
export function resample(signal: ArrayLike<number>, fromRate: number, toRate: number): Float64Array {
  if (fromRate === toRate) return Float64Array.from(signal);
  const ratio = fromRate / toRate;
  const cutoff = ratio > 1 ? 0.96 / ratio : 1;
  return warp(signal, Math.floor(signal.length / ratio), (n) => n * ratio, cutoff);
}
