import { CONTEXT, inContext } from './context.ts';
import { FEATURES } from './features.ts';
import { createTrees } from './trees.ts';
import type { TreeData } from './trees.ts';

/** What the second look is given. */
export const SECOND_FEATURES: readonly string[] = [...FEATURES, ...CONTEXT];

/** Both looks' trees, as fitted. */
export interface Looks {
  readonly first: TreeData;
  readonly second: TreeData;
}

/** What was decided of each candidate. */
export interface Decided {
  /** Probability that it is a pluck, 0…1. */
  readonly chances: Float64Array;
  /** What the second look was given: {@link SECOND_FEATURES}. */
  readonly rows: readonly Float64Array[];
}

/**
 * "Was that a pluck?", decided twice: first of each candidate by itself, then of each among its neighbours and
 * beside the take's sure plucks. For candidates in order of time (instants in seconds, features).
 */
export function createLooks({
  first,
  second,
}: Looks): (at: readonly number[], features: readonly ArrayLike<number>[]) => Decided {
  const alone = createTrees(first, FEATURES);
  const among = createTrees(second, SECOND_FEATURES);
  return (at, features) => {
    const rows = inContext(at, features, Float64Array.from(features, alone));
    return { chances: Float64Array.from(rows, among), rows };
  };
}
