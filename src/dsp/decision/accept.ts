import type { Possible } from '../hear/analysis.ts';
import { WORK_RATE } from '../signal/prepared.ts';

/** A candidate that was taken for a pluck. */
export interface Accepted {
  readonly possible: Possible;
  /** 0…1. */
  readonly probability: number;
}

/** Nothing playable at these levels follows faster, s; 30 ms would let pick noise through. */
export const GAP_SEC = 0.05;

/**
 * Likeliest first, none within 50 ms of a likelier one.
 * @param at instants, s @param probability of each @returns indices of those kept, in order of time
 */
export function keepLikeliest(
  at: readonly number[],
  probability: ArrayLike<number>,
  threshold: number,
): number[] {
  const ranked = at
    .map((_, i) => i)
    .filter((i) => probability[i]! >= threshold)
    .sort((a, b) => probability[b]! - probability[a]!);
  const kept: number[] = [];
  for (const i of ranked) if (kept.every((k) => Math.abs(at[k]! - at[i]!) >= GAP_SEC)) kept.push(i);
  return kept.sort((a, b) => at[a]! - at[b]!);
}

/** The candidates that {@link keepLikeliest} keeps. */
export function accept(
  possible: readonly Possible[],
  probability: (of: Possible) => number,
  threshold: number,
): Accepted[] {
  const chances = possible.map(probability);
  const at = possible.map((p) => p.attack.at / WORK_RATE);
  return keepLikeliest(at, chances, threshold).map((i) => ({
    possible: possible[i]!,
    probability: chances[i]!,
  }));
}
