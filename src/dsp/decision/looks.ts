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

/**
 * "Was that a pluck?", decided twice: first of each candidate by itself, then of each among its neighbours and
 * beside the take's sure plucks.
 *
 * @returns for candidates in order of time (instants in seconds, features) the probability of each, 0…1
 */
export function createLooks({
  first,
  second,
}: Looks): (at: readonly number[], features: readonly ArrayLike<number>[]) => Float64Array {
  const alone = createTrees(first, FEATURES);
  const among = createTrees(second, SECOND_FEATURES);
  return (at, features) => {
    const chances = Float64Array.from(features, alone);
    return Float64Array.from(inContext(at, features, chances), among);
  };
}
