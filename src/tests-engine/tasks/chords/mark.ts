import type { AskedChord, ChordTest, HeardChords } from '../../../music/chords/index.ts';
import type { HeardTake } from '../../../music/notes.ts';
import type { ChordMark, Fact } from '../../marks/anyMark.ts';
import { markChords, type ChordMarkOptions } from '../../marks/chords/index.ts';
import { MARKER_VERSION } from '../../marks/types.ts';
import { dueChords, spanOf } from '../../material/chords/index.ts';
import { chordsAtSec, isTimed } from './slots.ts';
import { answeredStrums, takenChords } from './taken.ts';

/** What the ear is asked for, and when a strum may answer it: seconds from beat 1; ever, where no time is asked. */
export interface AskedInTask {
  readonly chord: AskedChord;
  readonly fromSec: number;
  readonly toSec: number;
}

/** What the ear has to be asked while it hears a take of this test. */
export function askedOfTest(test: ChordTest): AskedInTask[] {
  const due = dueChords(test);
  return due.map(({ chord }, i) => ({ chord, ...spanOf(due, i) }));
}

/** When strokes are due, seconds from beat 1; none where chords are named one by one. */
export const expectedOfTest = (test: ChordTest): number[] =>
  dueChords(test).flatMap(({ dueSec }) => (dueSec === null ? [] : [dueSec]));

/** "F sharp minor seven, flat five over A sharp" takes 3.6 s (espeak-ng at 150 words a minute); no name is longer. */
const NAME_SEC = 3.6;

/** Where the voice that names the chords may be heard. */
function voiceOf(test: ChordTest): (atSec: number) => boolean {
  if (!test.said || isTimed(test)) return () => false;
  const names = chordsAtSec(test);
  return (atSec) => names.some((at) => atSec >= at && atSec <= at + NAME_SEC);
}

/** Marks a take whose times count from beat 1. A take that was not heard is not marked, and says why. */
export function markChordTake(
  test: ChordTest,
  take: HeardChords | HeardTake,
  options: ChordMarkOptions = {},
): ChordMark {
  const { heard, strums = [] } = 'notes' in take ? take : takenChords(take);
  const { reason } = heard;
  if (heard.verdict !== 'refused' || reason === null)
    return markChords(dueChords(test), answeredStrums(strums), { ...options, mayBeVoice: voiceOf(test) });
  const advice: Fact = { code: 'not-heard', values: { reason } };
  return {
    version: MARKER_VERSION,
    type: 'chords',
    mark: null,
    reason,
    range: null,
    outcome: null,
    verdicts: [],
    readings: [advice],
    advice,
  };
}
