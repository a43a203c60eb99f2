import { isPitched } from '../../music/kinds.ts';
import {
  ofNotes,
  OPEN_SPAN,
  overruledChordMark,
  overruledMark,
  takeOf,
  type ChordOverruling,
  type Overruling,
} from '../../tests-engine/index.ts';
import { written } from '../../music/task.ts';
import type { Attempt, Override } from '../../store/index.ts';
import { unknownMs } from '../session/latency.ts';

/** The mark of a kept attempt as it follows from verdicts that the teacher changed; null where it has none. */
export function followedMark(
  { test, take, zeroSec, latency, thresholds, mark }: Attempt,
  changes: Override['verdicts'],
): number | null {
  if (mark.type === 'chords' && 'chords' in test)
    return overruledChordMark(
      mark,
      test.chords[0]?.startTicks !== null,
      changes as readonly ChordOverruling[],
    );
  const given = ofNotes(mark);
  const notes = written(test);
  if (given === null || notes === null) return mark.mark;
  return overruledMark(
    notes,
    takeOf(take, { beatOneSec: zeroSec, latencySec: 0 }, OPEN_SPAN),
    {
      pitch: isPitched(test.kind),
      latencyUncertaintyMs: latency ? unknownMs(latency) : Infinity,
      thresholds,
    },
    given,
    changes as readonly Overruling[],
  );
}
