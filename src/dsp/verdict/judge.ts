import type { Heard, HeardReason } from '../../music/notes.ts';
import { amplitudeToDb } from '../../music/units.ts';
import type { StreamCheck } from './stream.ts';

const refused = (reason: HeardReason): Heard => ({ verdict: 'refused', reason });
const caution = (reason: HeardReason): Heard => ({ verdict: 'caution', reason });

/** More than a thousandth of the samples missing: the take has holes at which notes may have been. */
const BROKEN_SHARE = 0.001;
/** One lost block is bridged and nobody need know; where it happens again the take may be worse than it seems. */
const MOST_TOUCHED = 1;
/** Loud part of the take, RMS dBFS: under −70 a 16-bit converter's own noise is in the way, under −58 it is felt. */
const SILENT_DB = -70;
const QUIET_DB = -58;
/** Share of loud samples in flat tops. Chosen by hand, not measured. */
const CLIPPED_A_LITTLE = 0.05;
const CLIPPED = 0.35;

/** What can be said before anything is heard; null where the take is worth hearing. */
export function judgeStream(check: HeardFacts['check'], length: number): Heard | null {
  if (length === 0) return refused('no-stream');
  if ((check.broken + check.dropped) / length > 20 * BROKEN_SHARE) return refused('no-stream');
  if (check.peak === 0) return refused('silence');
  return null;
}

export interface HeardFacts {
  readonly check: Omit<StreamCheck, 'clean' | 'losses'>;
  /** Notes into which a lost block falls. */
  readonly touched: number;
  readonly length: number;
  readonly notes: number;
  /** RMS of the loud part, amplitude. */
  readonly loudRms: number;
  /** Probability that a plucked string was heard, 0…1. */
  readonly instrument: number;
  /** Mean confidence of the notes, 0…1. */
  readonly confidence: number;
}

/**
 * Under this a take is not marked; under the second with caution. Cross-validated on 939 takes: of 53 takes without
 * notes in which any was heard none lay over 0.34; of 813 with notes two lay lower than 0.5 (0.34 and 0.42), the next
 * at 0.56.
 */
const INSTRUMENT = 0.5;
const SURELY_INSTRUMENT = 0.7;
/** Mean confidence under which half the marks would hang on guesses. */
const UNCLEAR = 0.55;

/** May the take be marked? The worst reason is given. */
export function judge(facts: HeardFacts): Heard {
  const { check, length } = facts;
  const level = amplitudeToDb(facts.loudRms);
  if (level < SILENT_DB) return refused('silence');
  if (check.flat > CLIPPED) return refused('clipped');
  if (facts.notes === 0) return refused(level < QUIET_DB ? 'silence' : 'not-an-instrument');
  if (facts.instrument < INSTRUMENT) return refused('not-an-instrument');
  if ((check.broken + check.dropped) / length > BROKEN_SHARE || facts.touched > MOST_TOUCHED)
    return caution('no-stream');
  if (level < QUIET_DB) return caution('too-quiet');
  if (check.flat > CLIPPED_A_LITTLE) return caution('clipped');
  if (facts.instrument < SURELY_INSTRUMENT) return caution('not-an-instrument');
  if (facts.confidence < UNCLEAR) return caution('unclear');
  return { verdict: 'ok', reason: null };
}
