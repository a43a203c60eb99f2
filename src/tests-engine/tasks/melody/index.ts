import type { MelodyTest } from '../../../music/score.ts';
import { markNotes } from '../../marks/index.ts';
import { heardTask } from '../heard/index.ts';

/** A phrase heard over a backing and played back: every pitch and every time counts. */
export const melody = heardTask<MelodyTest>({
  kind: 'melody',
  asks: false,
  mark: (task, take, options) => markNotes(task, take, { pitch: true, ...options }),
});
