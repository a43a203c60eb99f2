import { binOf, toothAt } from './comb.ts';
import type { ShortSpectrum } from './comb.ts';

const FIRST = 4;

/**
 * Median growth of a pitch's first four partials from one spectrum to the next, dB.
 * @param floor added to both: partials far under it do not grow
 */
export function growth(before: ShortSpectrum, after: ShortSpectrum, midi: number, floor = 1e-4): number {
  const rises: number[] = [];
  for (let h = 1; h <= FIRST; h++) {
    const bin = h * binOf(midi);
    rises.push(40 * Math.log10((toothAt(after, bin) + floor) / (toothAt(before, bin) + floor)));
  }
  rises.sort((a, b) => a - b);
  return (rises[1]! + rises[2]!) / 2;
}
