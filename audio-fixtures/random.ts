/**
 * Seeded random numbers in 32-bit integer arithmetic (mulberry32, public domain, Tommy Ettinger), so that a
 * seed gives the same take on every machine. Only the final division leaves the integers.
 */
export interface Random {
  /** 0 ≤ x < 1, a multiple of 2⁻³². */
  next(): number;
  /** Uniform in [low, high). */
  between(low: number, high: number): number;
  /** Whole number in [low, high], both included. */
  whole(low: number, high: number): number;
  /** True with probability `p`. */
  chance(p: number): boolean;
  /** One element of a non-empty list. */
  pick<T>(list: readonly T[]): T;
  /** Mean 0, deviation 1, as the sum of 12 uniforms minus 6: no logarithm whose last bit may differ. */
  normal(): number;
  /** A further stream that does not disturb this one. */
  fork(label: string): Random;
}

/** FNV-1a over UTF-16 code units, as an unsigned 32-bit number. */
export function hashText(text: string): number {
  let h = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193);
  return h >>> 0;
}

/** @param seed whole number 0…2³²−1 */
export function makeRandom(seed: number): Random {
  if (!Number.isInteger(seed) || seed < 0 || seed > 0xffffffff)
    throw new RangeError(`seed must be a whole number 0…4294967295, got ${seed}`);
  let state = seed >>> 0;
  const draw = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return (t ^ (t >>> 14)) >>> 0;
  };
  const next = (): number => draw() / 2 ** 32;
  return {
    next,
    between: (low, high) => low + (high - low) * next(),
    whole: (low, high) => low + Math.floor((high - low + 1) * next()),
    chance: (p) => next() < p,
    pick: (list) => {
      if (list.length === 0) throw new RangeError('pick needs a list of at least one element');
      return list[Math.floor(next() * list.length)]!;
    },
    normal: () => {
      let sum = -6;
      for (let i = 0; i < 12; i++) sum += next();
      return sum;
    },
    fork: (label) => makeRandom((seed ^ hashText(label)) >>> 0),
  };
}
