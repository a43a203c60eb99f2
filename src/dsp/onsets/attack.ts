import { levelBetween, ms } from '../signal/prepared.ts';

/** Where a note's energy begins to rise. */
export interface Attack {
  /** Samples at the working rate. */
  readonly at: number;
  /** The steepest 5 ms to 5 ms rise there, dB. */
  readonly steepDb: number;
}

/** Step of the search: 0.25 ms. */
const STEP = 11;
const BEFORE = Math.round(ms(45));
const AFTER = Math.round(ms(20));
const SPAN = Math.round(ms(5));
const WIDTH = Math.round(ms(1));
const CLIMB = Math.round(ms(12));
/** A place 1 ms further from the candidate must be this much steeper, dB. */
const NEAR_DB_PER_MS = 0.12;

/**
 * The instant of attack: the last at which the 1 ms energy of the differentiated signal is 20 dB under the
 * attack's peak, or, over a ringing string, still within 3 dB of what was there before.
 *
 * @param edges running sum of squared sample-to-sample differences, see `Prepared`
 * @param around sample near which the attack is thought to lie (from −45 to +20 ms is searched)
 */
export function findAttack(edges: Float64Array, around: number): Attack {
  const length = edges.length - 1;
  let best = around;
  let bestScore = -Infinity;
  let steepDb = 0;
  for (let t = around - BEFORE; t <= around + AFTER; t += STEP) {
    if (t < 0 || t >= length) continue;
    const rise = levelBetween(edges, t, t + SPAN) - levelBetween(edges, t - SPAN, t);
    const score = rise - (NEAR_DB_PER_MS * Math.abs(t - around)) / ms(1);
    if (score > bestScore) {
      bestScore = score;
      best = t;
      steepDb = rise;
    }
  }
  let peakAt = best;
  let peak = -Infinity;
  for (let t = best; t <= best + CLIMB; t += STEP) {
    const level = levelBetween(edges, t - WIDTH / 2, t + WIDTH / 2);
    if (level > peak) {
      peak = level;
      peakAt = t;
    }
  }
  const before = levelBetween(edges, best - SPAN, best - WIDTH);
  const limit = Math.max(peak - 20, before + 3);
  let at = peakAt;
  while (at > best - SPAN && levelBetween(edges, at - WIDTH / 2, at + WIDTH / 2) > limit) at -= STEP;
  return { at: Math.max(0, at), steepDb };
}
