import type { HeardTake } from '../../music/notes.ts';
import { sec } from '../../music/units.ts';

/** Which onsets belong to the take, in seconds from beat 1 of bar 1 as the player heard it. */
export interface TakeSpan {
  readonly fromSec: number;
  readonly toSec: number;
}

/**
 * A note this much of a beat before beat 1 belongs to the count-in, not to the take; an eager first note is
 * never as much as half a beat early.
 */
const LEAD_IN_BEATS = 0.5;
/** A last note may be this late and still be of the take. */
const LATE_BEATS = 1;

/** The span of a take over something that sounds: half a beat before beat 1 to a beat after the last bar line. */
export const countedSpan = (beatSec: number, lengthSec: number): TakeSpan => ({
  fromSec: -LEAD_IN_BEATS * beatSec,
  toSec: lengthSec + LATE_BEATS * beatSec,
});

/** The span of a take that begins when the player is ready: all that was heard. */
export const OPEN_SPAN: TakeSpan = { fromSec: -Infinity, toSec: Infinity };

/**
 * The take on the player's clock: times from beat 1 as the player heard it, notes outside the span left out.
 * The one place where times of a recording become times of a take.
 *
 * @param beatOneSec when beat 1 was sent out, on the clock of `heard`
 * @param latencySec round trip: how much later than sent out what is on the beat stands in the recording
 */
export function takeOf(
  heard: HeardTake,
  { beatOneSec, latencySec }: { readonly beatOneSec: number; readonly latencySec: number },
  span: TakeSpan,
): HeardTake {
  const shift = beatOneSec + latencySec;
  const within = (at: number): boolean => at >= span.fromSec && at <= span.toSec;
  const strums = heard.strums
    ?.map((one) => ({
      ...one,
      firstSec: one.firstSec - shift,
      fullSec: one.fullSec - shift,
      ...(one.untilSec === undefined ? {} : { untilSec: one.untilSec - shift }),
    }))
    .filter(({ firstSec }) => within(firstSec));
  const notes = heard.notes
    .map((note) => ({
      ...note,
      onsetSec: sec(note.onsetSec - shift),
      offsetSec: sec(note.offsetSec - shift),
    }))
    .filter(({ onsetSec }) => within(onsetSec));
  return { ...heard, notes, ...(strums ? { strums } : {}) };
}
