import { AXIS_BINS, AXIS_FROM_HZ, BIN_CENTS, HIGHEST, LOWEST, PARTIALS } from './constants.ts';
import { partialCount, partialHz } from './partials.ts';
import { WINDOW_BIN_HZ } from './strumSpectrum.ts';

/** Tilts of a note's spectrum, dB an octave of partial number: soft, usual and bright strokes. */
export const TILTS = [-5, 0, 5] as const;

/** One column of the dictionary: only the values that matter. */
export interface Column {
  readonly bins: Int32Array;
  readonly values: Float64Array;
  readonly sum: number;
  /** Amplitude of each partial, re the note's total. */
  readonly amplitude: Float64Array;
}

/** A partial's width on the axis: tuning within the window, and the window's own lobe. */
const WIDTH_CENTS = 10;
const LOBE_BINS = 0.72;
/** Beyond this many widths a Gaussian is −39 dB down. */
const REACH = 3;

function column(midi: number, levelsDb: readonly number[], tilt: number): Column {
  const count = partialCount[midi - LOWEST]!;
  const amplitude = new Float64Array(PARTIALS);
  const axis = new Float64Array(AXIS_BINS);
  let total = 0;
  for (let n = 1; n <= count; n++) {
    const db = levelsDb[n - 1]! + tilt * Math.log2(n);
    amplitude[n - 1] = 10 ** (db / 20);
    total += amplitude[n - 1]! ** 2;
  }
  for (let n = 1; n <= count; n++) {
    amplitude[n - 1] = amplitude[n - 1]! / Math.sqrt(total);
    const hz = partialHz(midi, n, 0);
    const lobe = 1200 * Math.log2(1 + (LOBE_BINS * WINDOW_BIN_HZ) / hz);
    const width = Math.hypot(WIDTH_CENTS, lobe) / BIN_CENTS;
    const middle = (1200 * Math.log2(hz / AXIS_FROM_HZ)) / BIN_CENTS;
    const from = Math.max(0, Math.ceil(middle - REACH * width));
    const to = Math.min(AXIS_BINS - 1, Math.floor(middle + REACH * width));
    for (let b = from; b <= to; b++)
      axis[b] = axis[b]! + amplitude[n - 1]! * Math.exp(-0.5 * ((b - middle) / width) ** 2);
  }
  const bins = Int32Array.from(axis.keys()).filter((b) => axis[b]! > 1e-5);
  const values = Float64Array.from(bins, (b) => axis[b]!);
  return { bins, values, sum: values.reduce((s, v) => s + v, 0), amplitude };
}

/**
 * The dictionary: {@link TILTS} columns for each note from `LOWEST` on. The axis moves with the instrument's tuning, so the
 * columns need not.
 *
 * @param levelsDb mean level of each partial re the note's total, one row a note
 */
export function makeDictionary(levelsDb: readonly (readonly number[])[]): readonly (readonly Column[])[] {
  if (levelsDb.length !== HIGHEST - LOWEST + 1)
    throw new RangeError(`the dictionary needs ${HIGHEST - LOWEST + 1} notes, got ${levelsDb.length}`);
  return levelsDb.map((levels, i) => TILTS.map((tilt) => column(LOWEST + i, levels, tilt)));
}
