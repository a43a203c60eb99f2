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
 * Limits from 22 fresh takes (`npm run bench:bleed -- --rate 24000 --quick --scenes 2`, chain of 2026-11-25):
 * played ones, all of note F1 > 0.9, have a mean salience of 0.65…0.98, a doubt of 0.005…0.33 and leftovers of
 * −17…−2.6 dB; of two silent ones one has no notes and leftovers of +1.2 dB, the other three notes with a
 * salience of 0.22 and a doubt of 0.69. No played take failed among them, so that the limits between marking
 * with caution and not at all are set by margin, not measured.
 */
const NOBODY = { salience: 0.4, doubt: 0.6, leftoverDb: -1 };
const REFUSE = { doubt: 0.5, unclear: 0.5 };
const CAUTION = { salience: 0.55, doubt: 0.35, unclear: 0.25 };

/** May a take over a backing be marked? */
export function judgeOver(facts: OverFacts): { verdict: HeardVerdict; reason: HeardReason | null } {
  const { notes, salience, doubt, unclear, leftoverDb } = facts;
  if (notes === 0 || salience < NOBODY.salience || doubt > NOBODY.doubt || leftoverDb > NOBODY.leftoverDb)
    return { verdict: 'refused', reason: 'backing-only' };
  if (doubt > REFUSE.doubt || unclear > REFUSE.unclear)
    return { verdict: 'refused', reason: 'backing-too-loud' };
  if (salience < CAUTION.salience || doubt > CAUTION.doubt || unclear > CAUTION.unclear)
    return { verdict: 'caution', reason: 'backing-too-loud' };
  return { verdict: 'ok', reason: null };
}
