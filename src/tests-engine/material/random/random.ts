/**
 * The only source of chance in the material. 32-bit integer operations alone (`Math.imul`, shifts,
 * additions), which ECMAScript defines bit for bit: the same seed gives the same numbers everywhere.
 */
export interface Random {
  /** A whole number 0…2³²−1. */
  next(): number;
  /** A whole number 0…n−1, each equally likely (rejection, no modulo bias). @throws RangeError unless 1 ≤ n ≤ 2³². */
  below(n: number): number;
  /** One of the items. @throws RangeError on an empty list. */
  pick<T>(items: readonly T[]): T;
  /** True in `wins` of `of` cases. */
  chance(wins: number, of: number): boolean;
}

const TWO_32 = 4294967296;

/**
 * sfc32 (Chris Doty-Humphrey, PractRand, public domain): 128 bits of state, passes PractRand to 32 TB.
 * @param seed unsigned 32-bit; @param stream keeps draws for different purposes apart.
 */
export function makeRandom(seed: number, stream = 0): Random {
  let a = 0x9e3779b9 | 0;
  let b = seed | 0;
  let c = stream | 0;
  let counter = 1;
  const next = (): number => {
    const sum = (((a + b) | 0) + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (c << 21) | (c >>> 11);
    c = (c + sum) | 0;
    return sum >>> 0;
  };
  // Twelve rounds mix a seed through the whole state (the author's own count for a 32-bit seed).
  for (let round = 0; round < 12; round++) next();
  const below = (n: number): number => {
    if (!Number.isInteger(n) || n < 1 || n > TWO_32)
      throw new RangeError(`below(n) takes a whole number 1…2^32, got ${n}`);
    let draw = next();
    // Below the last whole multiple of n, as all but n in 2³² draws are, no limit has to be worked out.
    if (draw < TWO_32 - n) return draw % n;
    const limit = TWO_32 - (TWO_32 % n);
    while (draw >= limit) draw = next();
    return draw % n;
  };
  return {
    next,
    below,
    pick: (items) => {
      if (items.length === 0) throw new RangeError('cannot pick from an empty list');
      return items[below(items.length)]!;
    },
    chance: (wins, of) => below(of) < wins,
  };
}

/** One unsigned 32-bit number from two: the finaliser of MurmurHash3 (Appleby, public domain). */
export function mix(value: number, salt: number): number {
  let h = (value ^ Math.imul(salt + 1, 0x9e3779b1)) | 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}
