import { median } from '../../music/numbers.ts';
import type { Lag } from './segmentLags.ts';

/**
 * Where in the reference a recorded sample comes from: reference place = n − lagAt(map, n).
 * A constant delay, a clock that runs `drift` samples a sample fast, and jumps where capture glitched.
 */
export interface TimeMap {
  readonly delay: number;
  readonly drift: number;
  readonly jumps: readonly { readonly at: number; readonly by: number }[];
}

export function lagAt(map: TimeMap, n: number): number {
  let lag = map.delay + map.drift * n;
  for (const jump of map.jumps) if (n >= jump.at) lag += jump.by;
  return lag;
}

/** Theil–Sen line (Theil 1950, Sen 1968): median of the pairwise slopes, median of what is left. */
export function theilSen(points: readonly Lag[]): { slope: number; intercept: number; spread: number } {
  const slopes: number[] = [];
  for (const [i, a] of points.entries())
    for (const b of points.slice(i + 1)) if (b.at !== a.at) slopes.push((b.lag - a.lag) / (b.at - a.at));
  const slope = median(slopes);
  const intercept = median(points.map((p) => p.lag - slope * p.at));
  const spread = median(points.map((p) => Math.abs(p.lag - slope * p.at - intercept)));
  return { slope, intercept, spread };
}

/** A clock difference beyond ±150 ppm is no clock but a wrong peak. */
const MOST_DRIFT = 150e-6;
/** A jump must be longer than this many samples (0.25 ms at 24 kHz) … */
const LEAST_JUMP = 6;
/** … and stand on at least this many stretches on either side. */
const SIDE = 3;

/** Best single jump in `points` after the drift is taken out; null where there is none. */
function findJump(points: readonly Lag[]): { at: number; by: number } | null {
  let best: { at: number; by: number } | null = null;
  let bestCost = Infinity;
  const cost = (some: readonly Lag[]): number => {
    const m = median(some.map((p) => p.lag));
    return some.reduce((sum, p) => sum + Math.min(Math.abs(p.lag - m), 3 * LEAST_JUMP), 0);
  };
  const whole = cost(points);
  for (const [split, point] of points.entries()) {
    if (split < SIDE || split > points.length - SIDE) continue;
    const before = points.slice(0, split);
    const after = points.slice(split);
    const by = median(after.map((p) => p.lag)) - median(before.map((p) => p.lag));
    const total = cost(before) + cost(after);
    if (Math.abs(by) > LEAST_JUMP && total < bestCost) {
      bestCost = total;
      best = { at: (before.at(-1)!.at + point.at) / 2, by };
    }
  }
  return bestCost < 0.4 * whole ? best : null;
}

/** Lags within this many samples of the map agree with it (0.5 ms at 24 kHz). */
const AGREE = 12;
/** Lags of unrelated music fall anywhere in ±6 ms: 8 % agree by chance. */
const LEAST_AGREEMENT = 0.4;

/**
 * Fits delay, drift and up to two jumps to the lags of single stretches; null with fewer than three sure
 * ones, or when they do not agree on a map.
 */
export function fitTimeMap(lags: readonly Lag[], leastSureness: number): TimeMap | null {
  let points = lags.filter((l) => l.sureness >= leastSureness);
  if (points.length < 3) return null;
  const jumps: { at: number; by: number }[] = [];
  for (let round = 0; round < 2; round++) {
    const jump = findJump(points);
    if (!jump) break;
    jumps.push(jump);
    points = points.map((p) => (p.at >= jump.at ? { ...p, lag: p.lag - jump.by } : p));
  }
  const line = theilSen(points);
  const drift = Math.abs(line.slope) > MOST_DRIFT ? 0 : line.slope;
  const delay = median(points.map((p) => p.lag - drift * p.at));
  const agreeing = points.filter((p) => Math.abs(p.lag - delay - drift * p.at) < AGREE).length;
  return agreeing < Math.max(3, LEAST_AGREEMENT * points.length) ? null : { delay, drift, jumps };
}
