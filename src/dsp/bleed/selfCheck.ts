import type { HeardReason, HeardVerdict } from '../../notes.ts';
import type { NamedNote } from '../hear/name.ts';

/**
 * Leftovers over all that is left: silent students lie at −2.5…+0.1 dB, played takes under −6 (feasibility
 * study, 16 and 56 takes).
 */
const NOTHING_BUT_LEFTOVERS_DB = -3;
/** Expected wrong decisions for each expected note, from the decision's own probabilities. */
const CAUTION_DOUBT = 0.12;
const REFUSE_DOUBT = 0.35;

/**
 * May a take over a backing be marked?
 * @param probabilities of every candidate, 0…1
 * @param leftoverDb expected leftovers over what is left, dB
 */
export function judgeOver(
  probabilities: readonly number[],
  named: readonly NamedNote[],
  leftoverDb: number,
): { verdict: HeardVerdict; reason: HeardReason | null } {
  if (named.length === 0 || leftoverDb > NOTHING_BUT_LEFTOVERS_DB)
    return { verdict: 'refused', reason: 'backing-only' };
  const doubt = doubtOf(probabilities);
  if (doubt > REFUSE_DOUBT) return { verdict: 'refused', reason: 'backing-too-loud' };
  if (doubt > CAUTION_DOUBT) return { verdict: 'caution', reason: 'backing-too-loud' };
  return { verdict: 'ok', reason: null };
}

/** Σ min(p, 1 − p) / Σ p: the share of notes that the decision itself expects to get wrong. */
export function doubtOf(probabilities: readonly number[]): number {
  let doubt = 0;
  let notes = 0;
  for (const p of probabilities) {
    doubt += Math.min(p, 1 - p);
    notes += p;
  }
  return notes > 0 ? doubt / notes : 1;
}
