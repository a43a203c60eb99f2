import type { TreeData } from './trees.ts';
import data from './vetoWeights.json' with { type: 'json' };

/** The third look: `made` in the file says by which command and on what it was fitted. */
export const VETO: TreeData = data;
