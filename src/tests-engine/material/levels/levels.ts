import { BEGINNING } from './beginning.ts';
import { MIDDLE } from './middle.ts';
import { revised } from './revised.ts';
import type { LevelParameters } from './types.ts';
import { UPPER } from './upper.ts';

/** The levels of the first generator: what its codes were made from. Never changed. */
export const FIRST_LEVELS: readonly LevelParameters[] = [...BEGINNING, ...MIDDLE, ...UPPER];

/**
 * The ladder. Level N is `LEVELS[N - 1]`. It follows no syllabus: each step adds something to hear and
 * something to play, and its `reason` says why it comes there.
 */
export const LEVELS: readonly LevelParameters[] = FIRST_LEVELS.map(revised);
