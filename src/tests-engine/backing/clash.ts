import type { Cue, PracticeTest } from '../../music/score.ts';
import { performedSec } from '../../music/time.ts';
import { backingCues } from './backing.ts';
import { rubs } from './harmony.ts';
import { keyClasses } from './scale.ts';

/** How a phrase sits on its backing. Counts are of phrase notes. */
export interface Clashes {
  readonly notes: number;
  /** Notes a minor second (in any octave) from a pitched backing note that sounds at the same time. */
  readonly minorSeconds: number;
  /** Of those, idiomatic blue notes: the flat third over a major third, the flat fifth beside the fifth. */
  readonly blue: number;
}

type Pitched = Extract<Cue, { type: 'note' }>;

/** Shorter than this two sounds do not meet: what is left by rounding, s. */
const MEETING_SEC = 1e-6;

/**
 * Counts the clashes of a test's phrase with its backing, from the sounding cues themselves.
 *
 * @param cues a backing whose bar 1 starts at 0; the test's own by default.
 */
export function clashes(test: PracticeTest, cues: readonly Cue[] = backingCues(test, 0)): Clashes {
  const notes = test.phrase.notes.map((n) => ({
    midi: n.midi,
    fromSec: performedSec(n.startTicks, test),
    toSec: performedSec(n.startTicks + n.durationTicks, test),
  }));
  const { tonic } = keyClasses(test.key);
  const backing = cues.filter((c): c is Pitched => c.type === 'note');
  let minorSeconds = 0;
  let blue = 0;
  for (const note of notes) {
    const against = backing.filter(
      (b) =>
        b.atSec < note.toSec - MEETING_SEC &&
        b.atSec + b.durationSec > note.fromSec + MEETING_SEC &&
        rubs(b.midi, note.midi),
    );
    if (against.length === 0) continue;
    minorSeconds++;
    const degree = (((note.midi - tonic) % 12) + 12) % 12;
    const isBlue = against.every((b) => {
      const other = (((b.midi - tonic) % 12) + 12) % 12;
      return (degree === 3 && other === 4) || (degree === 6 && other === 7);
    });
    if (isBlue) blue++;
  }
  return { notes: notes.length, minorSeconds, blue };
}
