import { mix } from './random.ts';

/** Six rounds: four make a Feistel network a pseudo-random permutation (Luby & Rackoff 1988); two to spare. */
const ROUNDS = 6;

/**
 * Where `index` stands in a fixed shuffle of 0…size−1: a bijection, without a table. A Feistel network
 * over the next even power of two, walked until it falls inside (cycle walking, Black & Rogaway 2002).
 * Any `size` consecutive indices, taken modulo `size`, hit every value once.
 * @throws RangeError unless 1 ≤ size ≤ 2³² and 0 ≤ index < size.
 */
export function permuted(index: number, size: number, key: number): number {
  if (!Number.isInteger(size) || size < 1 || size > 4294967296)
    throw new RangeError(`a permutation's size is a whole number 1…2^32, got ${size}`);
  if (!Number.isInteger(index) || index < 0 || index >= size)
    throw new RangeError(`index must lie in 0…${size - 1}, got ${index}`);
  let side = 2;
  while (side * side < size) side *= 2;
  const mask = side - 1;
  let value = index;
  do {
    let left = Math.floor(value / side);
    let right = value & mask;
    for (let round = 0; round < ROUNDS; round++) {
      const swapped = left ^ (mix(right, (key + round) | 0) & mask);
      left = right;
      right = swapped;
    }
    value = left * side + right;
  } while (value >= size);
  return value;
}
