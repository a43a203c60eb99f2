import type { Heard, HeardTake } from '../../music/notes.ts';
import { sec } from '../../music/units.ts';
import { hearTake, type HearOptions } from '../hear/hearTake.ts';
import { playable } from '../note/range.ts';
import { judge, judgeStream } from '../verdict/judge.ts';
import type { Loss } from '../verdict/losses.ts';
import { checkStream, touchedNotes } from '../verdict/stream.ts';
import { cancelBacking, type Cancelled } from './cancel.ts';
import { hearLeft, type HeardLeft } from './hearLeft.ts';

export interface OverOptions extends HearOptions {
  /** What went to the loudspeaker over the span of the recording, mono, same rate and counter. */
  readonly reference: Float32Array;
  /** The take starts here in the recording, seconds; what lies before is learnt from. */
  readonly fromSec: number;
  readonly onProgress?: (share: number) => void;
}

/** Heard before the take's start, so that a first note played early is whole; then dropped if it began earlier. */
export const LEAD_SEC = 0.15;

/**
 * Bleed so far under what is left is none: what was found is chance. Of 15 scenes with headphones one was given a
 * delay (wrong by 22 ms) with a bleed at −61 dB; the weakest true bleed tried lies at −20 dB.
 */
const LEAST_BLEED_DB = -40;

/** Is there a backing in the recording at all? */
export const isHeard = ({ bleedDb }: Pick<Cancelled, 'bleedDb'>): boolean => bleedDb > LEAST_BLEED_DB;

/**
 * Hears a take that a loudspeaker played into.
 *
 * @param recording microphone over hearing and take, mono, `sampleRate` (8000…192000 Hz); NaN and
 *   infinities count as silence
 * @returns the notes from `fromSec` on, times counted from the recording's first sample. Where no backing is
 *   found in the recording (headphones), exactly the notes of {@link hearTake} on the same span; none if the take is
 *   refused.
 * @throws RangeError for a rate or a `fromSec` out of range, or a tuning that is none
 */
export function hearOverBacking(
  recording: Float32Array,
  sampleRate: number,
  { reference, fromSec, onProgress, missing = [], ...options }: OverOptions,
): HeardTake {
  const range = playable(options);
  const { clean } = checkStream(recording, sampleRate);
  const sent = checkStream(reference, sampleRate).clean;
  const start = Math.max(0, Math.round((fromSec - LEAD_SEC) * sampleRate));
  const startSec = start / sampleRate;
  const cancelled = cancelBacking(clean, sent, sampleRate, startSec, (share) => onProgress?.(0.7 * share));
  // What lies before the take may be empty: the practice window's samples are dropped on purpose.
  const take = recording.subarray(start);
  const lost = missing.map(({ at, length }) => ({ at: at - start, length }));
  const { notes, tuningCents, heard } =
    cancelled && isHeard(cancelled)
      ? judged(hearLeft(cancelled, range), take, sampleRate, lost)
      : alone(hearTake(take, sampleRate, { ...options, missing: lost }));
  onProgress?.(1);
  return {
    // What a refused take seems to hold is nothing that can be relied on.
    notes:
      heard.verdict === 'refused'
        ? []
        : notes
            .map((n) => ({
              ...n,
              onsetSec: sec(n.onsetSec + startSec),
              offsetSec: sec(n.offsetSec + startSec),
            }))
            .filter((n) => n.onsetSec >= fromSec - LEAD_SEC),
    tuningCents,
    heard,
  };
}

const alone = (take: HeardTake): HeardTake => ({
  ...take,
  heard: { ...take.heard, delayMs: null, driftPpm: null, cancellationDb: null },
});

/**
 * The worse of what the recording itself says (samples missing, overdriven, too soft), by the limits of a take
 * without backing, and of what its notes say. Of two as bad the recording's: what is wrong with it also keeps the
 * backing from being taken out.
 */
function judged(left: HeardLeft, take: Float32Array, sampleRate: number, lost: readonly Loss[]): HeardTake {
  const check = checkStream(take, sampleRate, lost);
  const { loudRms, heard } = left;
  const stream: Heard =
    judgeStream(check, take.length) ??
    judge({
      check,
      touched: touchedNotes(left.notes, check.losses, sampleRate),
      length: take.length,
      loudRms,
      notes: 1,
      instrument: 1,
      confidence: 1,
    });
  const rank = { ok: 0, caution: 1, refused: 2 };
  return stream.reason !== null && rank[stream.verdict] >= rank[heard.verdict]
    ? { ...left, heard: { ...heard, ...stream } }
    : left;
}
