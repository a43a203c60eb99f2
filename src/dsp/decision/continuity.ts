import { peakOffset } from '../../music/numbers.ts';
import { halve } from '../signal/halve.ts';
import { correlations } from '../signal/correlations.ts';
import { ms } from '../signal/prepared.ts';
import type { Prepared } from '../signal/prepared.ts';
import { floats } from '../signal/workspace.ts';
import { createRealFft } from '../spectrum/realFft.ts';
import type { RealFft } from '../spectrum/realFft.ts';

/** Does the wave after an instant carry on the wave before it? Both 0 (goes on) … 1 (something new; up to 2). */
export interface Continuity {
  /** @param at sample at the working rate */
  at(at: number): {
    /** 1 − best correlation of 8–33 ms after with any piece of the 85 ms before. */
    readonly disc: number;
    /** 1 − correlation of 8–30 ms after with the ringing string's own continuation; 1 if nothing rang. */
    readonly brk: number;
  };
}

/** Piecewise at half rate. */
const half = (time: number): number => Math.round(ms(time) / 2);
/** And at a quarter of it, for the low-passed comparison. */
const quarter = (time: number): number => Math.round(ms(time) / 4);

export function createContinuity(take: Prepared): Continuity {
  const x = take.half;
  const low = smooth(halve(x));
  scratch ??= createScratch();
  const made = scratch;
  return {
    at: (at) => ({
      disc: discontinuity(x, Math.round(at / 2), made),
      brk: breakAt(low, Math.round(at / 4)),
    }),
  };
}

/** Zero-phase low-pass near 1.3 kHz at 11 kHz: a 9-point Hann average. */
function smooth(input: Float32Array): Float32Array {
  const taps = Float64Array.from({ length: 9 }, (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 1)) / 10));
  const sum = taps.reduce((a, b) => a + b, 0);
  const padded = floats(input.length + 8);
  padded.set(input, 4);
  const out = floats(input.length);
  let i = 0;
  // Four sums do not wait for one another's additions.
  for (; i + 4 <= out.length; i += 4) {
    let a = 0;
    let b = 0;
    let c = 0;
    let d = 0;
    for (let t = 0; t < 9; t++) {
      const tap = taps[t]!;
      a += padded[i + t]! * tap;
      b += padded[i + t + 1]! * tap;
      c += padded[i + t + 2]! * tap;
      d += padded[i + t + 3]! * tap;
    }
    out[i] = a / sum;
    out[i + 1] = b / sum;
    out[i + 2] = c / sum;
    out[i + 3] = d / sum;
  }
  for (; i < out.length; i++) {
    let v = 0;
    for (let t = 0; t < 9; t++) v += padded[i + t]! * taps[t]!;
    out[i] = v / sum;
  }
  return out;
}

/** What lies before an instant, in samples at half rate, is compared with the piece after it. */
const PAST = half(85);
const PIECE = half(25);

/** What one comparison needs; nothing stays in it from call to call. */
interface Scratch {
  readonly fft: RealFft;
  readonly piece: Float64Array;
  readonly energy: Float64Array;
}
let scratch: Scratch | null = null;

function createScratch(): Scratch {
  // No longer than the past: the lags at which the piece lies inside it are free of what wraps around.
  const fft = createRealFft(2 ** Math.ceil(Math.log2(PAST)));
  return { fft, piece: new Float64Array(fft.spectrum.length), energy: new Float64Array(PAST + 1) };
}

function discontinuity(x: Float32Array, t: number, { fft, piece, energy }: Scratch): number {
  const { input, spectrum: s } = fft;
  const from = t + half(8);
  const length = Math.min(PIECE, x.length - from);
  if (length < half(12)) return 1;
  let own = 0;
  for (let i = 0; i < length; i++) {
    const v = x[from + i]!;
    input[i] = v;
    own += v * v;
  }
  input.fill(0, length);
  fft.forward();
  piece.set(s);
  let sum = 0;
  for (let i = 0; i < PAST; i++) {
    const v = t - PAST + i < 0 ? 0 : x[t - PAST + i]!;
    input[i] = v;
    sum += v * v;
    energy[i + 1] = sum;
  }
  input.fill(0, PAST);
  fft.forward();
  for (let i = 0; i < s.length; i += 2) {
    const re = s[i]! * piece[i]! + s[i + 1]! * piece[i + 1]!;
    const im = s[i + 1]! * piece[i]! - s[i]! * piece[i + 1]!;
    s[i] = re;
    s[i + 1] = im;
  }
  fft.inverse();
  let best = 0;
  for (let lag = 0; lag + length <= PAST; lag++) {
    const dot = input[lag]!;
    if (dot <= 0) continue;
    const r = dot / Math.sqrt(own * (energy[lag + length]! - energy[lag]!) + 1e-7);
    if (r > best) best = r;
  }
  return 1 - best;
}

/** Correlation below which what sounded before counts as nothing ringing. */
const RINGING = 0.6;
/** Added to the product of two energies: of 30 ms at −70 dB each. */
const LEAST = 1e-9;

function breakAt(x: Float32Array, t: number): number {
  const period = periodBefore(x, t);
  if (period === null) return 1;
  const from = t + quarter(8);
  const length = Math.min(quarter(22), x.length - from);
  if (length < quarter(12)) return 1;
  const periods = Math.ceil((quarter(8) + length + quarter(3)) / period);
  const centre = periods * period;
  const play = Math.max(1, 0.06 * period);
  // What would reach back to before the take is like nothing.
  const longest = Math.min(from, Math.round(centre + play));
  const count = longest - Math.round(centre - play) + 1;
  if (count <= 0) return 1;
  const values = new Float64Array(count);
  correlations(x, from, from - longest, length, count, LEAST, values);
  let best = 0;
  for (let k = 0; k < count; k++) if (values[k]! > best) best = values[k]!;
  return 1 - best;
}

/** Period of what rang during the 70 ms before `t`, in samples (fractional); null if nothing did. */
function periodBefore(x: Float32Array, t: number): number | null {
  const length = quarter(30);
  const end = t - quarter(2);
  const from = end - length;
  const longest = quarter(29);
  if (from - longest < 0) return null;
  const shortest = 7;
  // values[lag], from the longest lag down as the compared piece moves on.
  const values = new Float64Array(longest + 1);
  correlations(x, from, from - longest, length, longest - shortest + 2, LEAST, values);
  values.reverse();
  let top = 0;
  for (let lag = shortest; lag <= longest; lag++) top = Math.max(top, values[lag]!);
  if (top < RINGING) return null;
  for (let lag = shortest; lag < longest; lag++) {
    const v = values[lag]!;
    if (v < 0.93 * top || v < values[lag - 1]! || v < values[lag + 1]!) continue;
    return lag + peakOffset(values[lag - 1]!, v, values[lag + 1]!);
  }
  return null;
}
