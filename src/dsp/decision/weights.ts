import type { TreeData } from './trees.ts';
import data from './weights.json' with { type: 'json' };

/** "Was that a pluck?", asked twice: `made` in the file says by which command and on what both looks were fitted. */
export const FIRST_LOOK: TreeData = data.first;
export const SECOND_LOOK: TreeData = data.second;
