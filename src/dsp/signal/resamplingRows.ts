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

/** Coefficients of a change of rate: output m stands for the instant m · step / phases of the input. */
export interface ResamplingRows {
  readonly phases: number;
  readonly step: number;
  /** Input samples after the instant, and one more before it, that an output depends on. */
  readonly reach: number;
  /** 2 · reach. */
  readonly taps: number;
  /** A row of taps for each phase: it serves an instant phase / phases after input sample (reach − 1) of its window. */
  readonly rows: Float32Array;
}

/** How many phases there are is not bounded: of rates without a common divisor there are as many as hertz. */
export const phasesOf = (source: number, target: number): number => target / gcd(source, target);

/** @param source rate @param target rate, both whole hertz */
export function resamplingRows(source: number, target: number): ResamplingRows {
  const phases = phasesOf(source, target);
  const step = (source * phases) / target;
  const cutoff = CUTOFF * Math.min(1, target / source);
  const reach = Math.ceil(HALF_WIDTH / cutoff);
  const taps = 2 * reach;
  const rows = new Float32Array(phases * taps);
  const norm = besselI0(KAISER_BETA);
  for (let p = 0; p < phases; p++)
    for (let t = 0; t < taps; t++) {
      const x = t - (reach - 1) - p / phases;
      const u = x / reach;
      const window = Math.abs(u) >= 1 ? 0 : besselI0(KAISER_BETA * Math.sqrt(1 - u * u)) / norm;
      const arg = Math.PI * cutoff * x;
      rows[p * taps + t] = (x === 0 ? cutoff : (cutoff * Math.sin(arg)) / arg) * window;
    }
  return { phases, step, reach, taps, rows };
}
