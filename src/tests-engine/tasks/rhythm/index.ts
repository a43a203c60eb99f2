import type { RhythmTest } from '../../../music/score.ts';
import { markNotes, withOtherPitches } from '../../marks/index.ts';
import { heardTask } from '../heard/index.ts';

/** A rhythm on the lowest string, then which of two written rhythms it was. Other pitches cost nothing. */
export const rhythm = heardTask<RhythmTest>({
  kind: 'rhythm',
  asks: true,
  mark: (task, take, options) =>
    withOtherPitches(task, take, markNotes(task, take, { pitch: false, ...options })),
});
