import { BEGINNING } from './beginning.ts';
import { MIDDLE } from './middle.ts';
import type { LevelParameters } from './types.ts';
import { UPPER } from './upper.ts';

/**
 * The ladder. Level N is `LEVELS[N - 1]`. It follows no syllabus: each step adds something to hear and
 * something to play, and its `reason` says why it comes there.
 */
export const LEVELS: readonly LevelParameters[] = [...BEGINNING, ...MIDDLE, ...UPPER];
