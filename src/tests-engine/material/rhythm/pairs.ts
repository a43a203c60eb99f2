import type { Stretch } from './parts.ts';

/** Every first part with every second part that together have so many notes, by number; never listed. */
export interface Pairs {
  readonly size: number;
  /** @throws RangeError outside 0…size−1. */
  at(index: number): readonly [Stretch, Stretch];
}

/** @param fewest fewest and @param most most notes of the pair. */
export function pairs(
  firsts: readonly Stretch[],
  seconds: readonly Stretch[],
  fewest: number,
  most: number,
): Pairs {
  const sorted = [...seconds].sort((a, b) => a.onsets.length - b.onsets.length);
  /** How many seconds have fewer notes than this. */
  const below = (notes: number): number => {
    let count = 0;
    while (count < sorted.length && sorted[count]!.onsets.length < notes) count++;
    return count;
  };
  const starts: number[] = [];
  const lows: number[] = [];
  let size = 0;
  for (const { onsets } of firsts) {
    starts.push(size);
    const low = below(fewest - onsets.length);
    lows.push(low);
    size += Math.max(0, below(most - onsets.length + 1) - low);
  }
  return {
    size,
    at(index) {
      if (!(index >= 0 && index < size)) throw new RangeError(`pair ${index} of ${size}`);
      let left = 0;
      let right = firsts.length - 1;
      while (left < right) {
        const middle = (left + right + 1) >> 1;
        if (starts[middle]! <= index) left = middle;
        else right = middle - 1;
      }
      return [firsts[left]!, sorted[lows[left]! + index - starts[left]!]!];
    },
  };
}
