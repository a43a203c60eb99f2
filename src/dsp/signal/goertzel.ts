import { createSimd, type Simd } from '../simd/instance.ts';

/** No more harmonics than this at once. */
export const MOST_HARMONICS = 8;
/** Nothing is looked for over 0.45 of the rate: 10 kHz at half the working rate. */
const HIGHEST = 0.45;

/** Where the recursion ends at each harmonic: one after another; overwritten by the next call. */
export interface Harmonics {
  /** How many lie low enough. */
  readonly count: number;
  /** The last value and the last but one. */
  readonly last: Float64Array;
  readonly before: Float64Array;
  /** Of the recursion: twice the cosine of the angle a sample. */
  readonly turns: Float64Array;
}

const turns = new Float64Array(MOST_HARMONICS);
function turnsOf(cycles: number, most: number): number {
  let count = 0;
  for (; count < most && (count + 1) * cycles < HIGHEST; count++)
    turns[count] = 2 * Math.cos(2 * Math.PI * (count + 1) * cycles);
  return count;
}

/**
 * Goertzel's recursion (American Mathematical Monthly 65, 1958) at the harmonics of a frequency over a tapered piece.
 * @param start of the piece; before the signal is silence, its end must lie inside
 * @param cycles of the first harmonic, a sample @param most harmonics, up to {@link MOST_HARMONICS}
 */
export function plainHarmonics(
  x: Float32Array,
  start: number,
  taper: Float64Array,
  cycles: number,
  most: number,
): Harmonics {
  const count = turnsOf(cycles, most);
  const last = new Float64Array(count);
  const before = new Float64Array(count);
  for (let h = 0; h < count; h++) {
    const turn = turns[h]!;
    let a = 0;
    let b = 0;
    for (let i = Math.max(0, -start); i < taper.length; i++) {
      const now = x[start + i]! * taper[i]! + turn * a - b;
      b = a;
      a = now;
    }
    last[h] = a;
    before[h] = b;
  }
  return { count, last, before, turns };
}

/** Longer pieces are looked at in plain code. */
const LONGEST = 4096;
type Place = 'samples' | 'taper' | 'turns' | 'out';
let simd: Simd<Place> | null | undefined;
const makeSimd = (): typeof simd =>
  createSimd({
    ...{ samples: LONGEST, taper: 2 * LONGEST },
    ...{ turns: 2 * MOST_HARMONICS, out: 4 * MOST_HARMONICS },
  });
/** The taper that lies in the module's memory. */
let tapered: Float64Array | null = null;

/** As {@link plainHarmonics}, to the last bit, by `simd/kernels`; null where that cannot be run. */
export function simdHarmonics(
  x: Float32Array,
  start: number,
  taper: Float64Array,
  cycles: number,
  most: number,
): Harmonics | null {
  if (taper.length > LONGEST) return null;
  simd = simd === undefined ? makeSimd() : simd;
  if (!simd) return null;
  const { run, at, floats, doubles } = simd;
  if (tapered !== taper) doubles.taper.set(taper);
  tapered = taper;
  const count = turnsOf(cycles, most);
  doubles.turns.set(turns);
  const silent = Math.min(taper.length, Math.max(0, -start));
  floats.samples.fill(0, 0, silent);
  floats.samples.set(x.subarray(start + silent, Math.max(0, start + taper.length)), silent);
  run.goertzel(at.samples, at.taper, taper.length, at.turns, at.out);
  return {
    count,
    last: doubles.out.subarray(0, count),
    before: doubles.out.subarray(MOST_HARMONICS, MOST_HARMONICS + count),
    turns,
  };
}

/** The faster of the two that runs here. */
export const harmonics = (...of: Parameters<typeof plainHarmonics>): Harmonics =>
  simdHarmonics(...of) ?? plainHarmonics(...of);
