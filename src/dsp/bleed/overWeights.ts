import type { TreeData } from '../decision/trees.ts';
import data from './overWeights.json' with { type: 'json' };

/** "Was that a pluck?" over a backing: `made` in the file says by which command and on what it was fitted. */
export const OVER_TREES: TreeData = data;
