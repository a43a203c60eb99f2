import { halve } from '../signal/halve.ts';
import { ms } from '../signal/prepared.ts';
import type { Prepared } from '../signal/prepared.ts';
import { createRealFft } from '../spectrum/realFft.ts';

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
  const fft = createRealFft(4096);
  const piece = new Float64Array(fft.spectrum.length);
  return {
    at(at) {
      return {
        disc: discontinuity(x, Math.round(at / 2), fft, piece),
        brk: breakAt(low, Math.round(at / 4)),
      };
    },
  };
}

/** Zero-phase low-pass near 1.3 kHz at 11 kHz: a 9-point Hann average. */
function smooth(input: Float32Array): Float32Array {
  const taps = Float64Array.from({ length: 9 }, (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 1)) / 10));
  const sum = taps.reduce((a, b) => a + b, 0);
  const out = new Float32Array(input.length);
  for (let i = 0; i < input.length; i++) {
    let v = 0;
    for (let t = -4; t <= 4; t++) v += (input[i + t] ?? 0) * taps[t + 4]!;
    out[i] = v / sum;
  }
  return out;
}

function discontinuity(
  x: Float32Array,
  t: number,
  fft: ReturnType<typeof createRealFft>,
  piece: Float64Array,
): number {
  const from = t + half(8);
  const length = Math.min(half(25), x.length - from);
  const past = half(85);
  if (length < half(12)) return 1;
  fft.input.fill(0);
  let own = 0;
  for (let i = 0; i < length; i++) {
    fft.input[i] = x[from + i]!;
    own += x[from + i]! ** 2;
  }
  fft.forward();
  piece.set(fft.spectrum);
  fft.input.fill(0);
  for (let i = 0; i < past; i++) fft.input[i] = x[t - past + i] ?? 0;
  const energy = new Float64Array(past + 1);
  for (let i = 0; i < past; i++) energy[i + 1] = energy[i]! + fft.input[i]! ** 2;
  fft.forward();
  const s = fft.spectrum;
  for (let i = 0; i < s.length; i += 2) {
    const re = s[i]! * piece[i]! + s[i + 1]! * piece[i + 1]!;
    const im = s[i + 1]! * piece[i]! - s[i]! * piece[i + 1]!;
    s[i] = re;
    s[i + 1] = im;
  }
  fft.inverse();
  let best = 0;
  for (let lag = 0; lag + length <= past; lag++) {
    const other = energy[lag + length]! - energy[lag]!;
    const r = fft.input[lag]! / Math.sqrt(own * other + 1e-7);
    if (r > best) best = r;
  }
  return 1 - best;
}

/** Correlation below which what sounded before counts as nothing ringing. */
const RINGING = 0.6;

function breakAt(x: Float32Array, t: number): number {
  const period = periodBefore(x, t);
  if (period === null) return 1;
  const from = t + quarter(8);
  const length = Math.min(quarter(22), x.length - from);
  if (length < quarter(12)) return 1;
  const periods = Math.ceil((quarter(8) + length + quarter(3)) / period);
  const centre = periods * period;
  const play = Math.max(1, 0.06 * period);
  let best = 0;
  for (let lag = Math.round(centre - play); lag <= Math.round(centre + play); lag++) {
    const r = correlation(x, from, from - lag, length);
    if (r > best) best = r;
  }
  return 1 - best;
}

function correlation(x: Float32Array, a: number, b: number, length: number): number {
  if (a < 0 || b < 0) return 0;
  let dot = 0;
  let p = 0;
  let q = 0;
  for (let i = 0; i < length; i++) {
    const u = x[a + i]!;
    const v = x[b + i]!;
    dot += u * v;
    p += u * u;
    q += v * v;
  }
  return dot / Math.sqrt(p * q + 1e-9);
}

/** Period of what rang during the 70 ms before `t`, in samples (fractional); null if nothing did. */
function periodBefore(x: Float32Array, t: number): number | null {
  const length = quarter(30);
  const end = t - quarter(2);
  const from = end - length;
  const longest = quarter(29);
  if (from - longest < 0) return null;
  const shortest = 7;
  const values = new Float64Array(longest + 1);
  for (let lag = shortest - 1; lag <= longest; lag++) values[lag] = correlation(x, from, from - lag, length);
  let top = 0;
  for (let lag = shortest; lag <= longest; lag++) top = Math.max(top, values[lag]!);
  if (top < RINGING) return null;
  for (let lag = shortest; lag < longest; lag++) {
    const v = values[lag]!;
    if (v < 0.93 * top || v < values[lag - 1]! || v < values[lag + 1]!) continue;
    const curve = values[lag - 1]! - 2 * v + values[lag + 1]!;
    return lag + (curve < 0 ? (0.5 * (values[lag - 1]! - values[lag + 1]!)) / curve : 0);
  }
  return null;
}
