import type { TreeData } from '../decision/trees.ts';
import data from './placementWeights.json' with { type: 'json' };

/** Where a note's attack lies over a backing: `made` in the file says by which command and on what it was fitted. */
export const PLACEMENT_TREES: TreeData = data;
