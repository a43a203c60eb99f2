import type { Possible } from '../hear/analysis.ts';
import { ms } from '../signal/prepared.ts';

/** A candidate that was taken for a pluck. */
export interface Accepted {
  readonly possible: Possible;
  /** 0…1. */
  readonly probability: number;
}

/** Nothing playable at these levels follows faster; 30 ms would let pick noise through. */
const GAP = ms(50);

/** Likeliest first, none within 50 ms of a likelier one; in order of time. */
export function accept(
  possible: readonly Possible[],
  probability: (of: Possible) => number,
  threshold: number,
): Accepted[] {
  const ranked = possible
    .map((p) => ({ possible: p, probability: probability(p) }))
    .filter((p) => p.probability >= threshold)
    .sort((a, b) => b.probability - a.probability);
  const kept: Accepted[] = [];
  for (const one of ranked)
    if (kept.every((k) => Math.abs(k.possible.attack.at - one.possible.attack.at) >= GAP)) kept.push(one);
  return kept.sort((a, b) => a.possible.attack.at - b.possible.attack.at);
}
