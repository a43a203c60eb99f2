import type { Heard, HeardTake } from '../../notes.ts';
import { sec } from '../../units.ts';
import { accept } from '../decision/accept.ts';
import { createDecision } from '../decision/model.ts';
import { hearTake, type HearOptions } from '../hear/hearTake.ts';
import { heardNotes } from '../hear/heardNotes.ts';
import { nameNotes } from '../hear/name.ts';
import { cancelBacking, type Cancelled } from './cancel.ts';
import { analyseOver, type OverAnalysis } from './overAnalysis.ts';
import { OVER_MODEL } from './overWeights.ts';
import { judgeOver } from './selfCheck.ts';

export interface OverOptions extends HearOptions {
  /** What went to the loudspeaker over the span of the recording, mono, same rate and counter. */
  readonly reference: Float32Array;
  /** The take starts here in the recording, seconds; what lies before is learnt from. */
  readonly fromSec: number;
  readonly onProgress?: (share: number) => void;
}

/** From the five-fold table of `tests/bench/fit/over.ts`: F1 is flat from 0.3 to 0.5. */
const THRESHOLD = 0.4;
/** Heard before the take's start, so that a first note played early is whole; then dropped if it began earlier. */
const LEAD_SEC = 0.15;

/**
 * Hears a take that a loudspeaker played into.
 *
 * @param recording microphone over hearing and take, mono, `sampleRate` (8000…192000 Hz)
 * @returns the notes from `fromSec` on, times counted from the recording's first sample. Where no backing is
 *   found in the recording (headphones), exactly the notes of {@link hearTake} on the same span.
 * @throws RangeError for a rate or a `fromSec` out of range
 */
export function hearOverBacking(
  recording: Float32Array,
  sampleRate: number,
  { reference, fromSec, onProgress, ...options }: OverOptions,
): HeardTake {
  const start = Math.max(0, Math.round((fromSec - LEAD_SEC) * sampleRate));
  const startSec = start / sampleRate;
  const cancelled = cancelBacking(recording, reference, sampleRate, startSec, (share) =>
    onProgress?.(0.7 * share),
  );
  const heard = cancelled ? hearLeft(cancelled) : hearAlone(recording.subarray(start), sampleRate, options);
  onProgress?.(1);
  return {
    ...heard,
    notes: heard.notes
      .map((n) => ({ ...n, onsetSec: sec(n.onsetSec + startSec), offsetSec: sec(n.offsetSec + startSec) }))
      .filter((n) => n.onsetSec >= fromSec - LEAD_SEC),
  };
}

function hearAlone(take: Float32Array, sampleRate: number, options: HearOptions): HeardTake {
  const heard = hearTake(take, sampleRate, options);
  return { ...heard, heard: { ...heard.heard, delayMs: null, driftPpm: null, cancellationDb: null } };
}

function hearLeft(cancelled: Cancelled): HeardTake {
  const analysis: OverAnalysis = analyseOver(cancelled);
  const decide = createDecision(OVER_MODEL);
  const accepted = accept(analysis.possible, (p) => decide(p.features), THRESHOLD);
  const named = nameNotes(analysis.masked, accepted);
  const judged = judgeOver(
    analysis.possible.map((p) => decide(p.features)),
    named,
    analysis.leftoverDb,
  );
  const heard: Heard = {
    ...judged,
    delayMs: cancelled.delayMs,
    driftPpm: cancelled.driftPpm,
    cancellationDb: cancelled.cancellationDb,
  };
  const notes = heardNotes(named, analysis.masked.take.gain);
  // A refused take's notes are leftovers of the backing: none are handed out.
  return judged.verdict === 'refused' && judged.reason === 'backing-only'
    ? { ...notes, notes: [], heard }
    : { ...notes, heard };
}
