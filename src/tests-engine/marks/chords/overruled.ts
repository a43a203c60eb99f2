import type { ChordMark, ChordVerdict } from '../anyMark.ts';
import { chordPoints, ONE_CLASS, wrongShare } from './markChords.ts';

/** A verdict on a chord that a teacher gave in place of the machine's; `index` into the mark's verdicts. */
export interface ChordOverruling {
  readonly index: number;
  readonly kind: ChordVerdict['kind'];
}

/** The verdict as the teacher gave it: what the machine heard of it no longer counts, its time does. */
const overruledVerdict = (verdict: ChordVerdict, kind: ChordVerdict['kind']): ChordVerdict =>
  kind === verdict.kind ? verdict : { ...verdict, kind, missing: [], foreign: [], bass: null, byHand: true };

/**
 * The mark as it follows from verdicts that a teacher changed. What of a chord is wrong is not said: it costs as much as one class.
 *
 * @param timed whether the chords were due in time
 * @returns 0…100, one decimal; null where `given` has no mark, or nothing is left to mark
 * @throws RangeError for an index that is no verdict's
 */
export function overruledChordMark(
  given: ChordMark,
  timed: boolean,
  changes: readonly ChordOverruling[],
): number | null {
  if (given.mark === null || changes.length === 0) return given.mark;
  const verdicts = [...given.verdicts];
  for (const { index, kind } of changes) {
    const verdict = verdicts[index];
    if (!verdict) throw new RangeError(`verdict index must be 0…${verdicts.length - 1}, got ${index}`);
    verdicts[index] = overruledVerdict(verdict, kind);
  }
  const asked = verdicts.filter(({ askedIndex }) => askedIndex !== null).map(() => timed);
  return chordPoints(asked, verdicts, (verdict) =>
    verdict.byHand ? handShare(verdict) : wrongShare(verdict),
  ).mark;
}

const handShare = ({ kind }: ChordVerdict): number => (kind === 'no' ? ONE_CLASS : 0);
