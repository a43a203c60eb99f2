import type { HeardReason, HeardVerdict } from '../../notes.ts';
import type { NamedNote } from '../hear/name.ts';

/** What is known of a take over a backing when it is decided whether it may be marked. */
export interface OverFacts {
  readonly notes: number;
  /** The share of notes that the decision itself expects to get wrong: Σ min(p, 1 − p) / Σ p. */
  readonly doubt: number;
  /** Mean salience of the named pitches, 0…1. */
  readonly salience: number;
  /** Share of notes whose pitch is hardly clearer than another. */
  readonly unclear: number;
  /** Expected leftovers over what is left, dB. */
  readonly leftoverDb: number;
  /** Bleed over what is left, dB. */
  readonly bleedDb: number;
}

/** A pitch that stands out by less than this against the next best one is often another. */
const LEAST_MARGIN = 1;

/** @param probabilities of every candidate, 0…1 */
export function overFacts(
  probabilities: readonly number[],
  named: readonly NamedNote[],
  leftoverDb: number,
  bleedDb: number,
): OverFacts {
  let wrong = 0;
  let expected = 0;
  for (const p of probabilities) {
    wrong += Math.min(p, 1 - p);
    expected += p;
  }
  const count = Math.max(1, named.length);
  return {
    notes: named.length,
    doubt: expected > 0 ? wrong / expected : 1,
    salience: named.reduce((s, n) => s + n.salience, 0) / count,
    unclear: named.filter((n) => n.margin < LEAST_MARGIN).length / count,
    leftoverDb,
    bleedDb,
  };
}

/**
 * Leftovers over all that is left: silent students lie at −2.5…+0.1 dB, played takes under −6 (feasibility
 * study, 16 and 56 takes).
 */
const NOTHING_BUT_LEFTOVERS_DB = -3;
const CAUTION_DOUBT = 0.12;
const REFUSE_DOUBT = 0.35;

/** May a take over a backing be marked? */
export function judgeOver(facts: OverFacts): { verdict: HeardVerdict; reason: HeardReason | null } {
  if (facts.notes === 0 || facts.leftoverDb > NOTHING_BUT_LEFTOVERS_DB)
    return { verdict: 'refused', reason: 'backing-only' };
  if (facts.doubt > REFUSE_DOUBT) return { verdict: 'refused', reason: 'backing-too-loud' };
  if (facts.doubt > CAUTION_DOUBT) return { verdict: 'caution', reason: 'backing-too-loud' };
  return { verdict: 'ok', reason: null };
}
