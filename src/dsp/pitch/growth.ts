import { binOf, toothAt } from './comb.ts';

const FIRST = 4;

/** Median growth of a pitch's first four partials from one spectrum (see `Spectra.rooted`) to the next, dB. */
export function growth(before: Float64Array, after: Float64Array, midi: number): number {
  const rises: number[] = [];
  for (let h = 1; h <= FIRST; h++) {
    const bin = h * binOf(midi);
    rises.push(40 * Math.log10((toothAt(after, bin) + 1e-4) / (toothAt(before, bin) + 1e-4)));
  }
  rises.sort((a, b) => a - b);
  return (rises[1]! + rises[2]!) / 2;
}
