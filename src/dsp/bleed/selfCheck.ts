import type { HeardReason, HeardVerdict } from '../../music/notes.ts';
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
 * Limits from 40 takes over a backing (`npm run bench:bleed -- --rate 24000 --quick --scenes 2`, and with
 * `--first 1003`, 2026-11-25): played ones, all of note F1 > 0.88, have a mean salience of 0.41…0.97, doubt up to
 * 0.25 and no unclear pitch but one; silent ones have a salience under 0.26 and nothing but unclear pitches. No
 * played take failed among them, so that the limits between marking with caution and not at all are set by
 * margin, not measured. Leftovers say less: they depend on how long the notes sound.
 */
const NOBODY = { salience: 0.33, unclear: 0.75 };
const REFUSE = { doubt: 0.5, unclear: 0.5 };
const CAUTION = { salience: 0.5, doubt: 0.35, unclear: 0.25 };

/** May a take over a backing be marked? */
export function judgeOver(facts: OverFacts): { verdict: HeardVerdict; reason: HeardReason | null } {
  const { notes, salience, doubt, unclear } = facts;
  if (notes === 0 || salience < NOBODY.salience || unclear > NOBODY.unclear)
    return { verdict: 'refused', reason: 'backing-only' };
  if (doubt > REFUSE.doubt || unclear > REFUSE.unclear)
    return { verdict: 'refused', reason: 'backing-too-loud' };
  if (salience < CAUTION.salience || doubt > CAUTION.doubt || unclear > CAUTION.unclear)
    return { verdict: 'caution', reason: 'backing-too-loud' };
  return { verdict: 'ok', reason: null };
}
