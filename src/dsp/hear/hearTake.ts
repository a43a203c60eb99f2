import type { HeardTake } from '../../notes.ts';
import { accept } from '../decision/accept.ts';
import { FEATURES } from '../decision/features.ts';
import { createTrees } from '../decision/trees.ts';
import { PLUCK_TREES } from '../decision/weights.ts';
import { analyse } from './analysis.ts';
import { heardNotes } from './heardNotes.ts';
import { nameNotes } from './name.ts';
import { toWorkRate } from './toWorkRate.ts';

export interface HearOptions {
  readonly instrument: 'guitar' | 'bass';
}

/** Probability from which a candidate is a note. Under one half: F1's optimum lies below it (0.25…0.35 alike). */
const THRESHOLD = 0.3;
const decide = createTrees(PLUCK_TREES, FEATURES);

/**
 * Hears a recorded take: which notes were plucked, when, and how sure that is.
 *
 * @param signal mono samples, −1…1; not changed
 * @param sampleRate 8000…192000 Hz; everything is resampled to {@link WORK_RATE}
 * @throws RangeError for a rate outside the range
 */
export function hearTake(signal: Float32Array, sampleRate: number, _options: HearOptions): HeardTake {
  const analysis = analyse(toWorkRate(signal, sampleRate));
  const accepted = accept(analysis.possible, (p) => decide(p.features), THRESHOLD);
  const named = nameNotes(analysis, accepted);
  return {
    ...heardNotes(named, analysis.take.gain),
    heard: { verdict: named.length > 0 ? 'ok' : 'refused', reason: named.length > 0 ? null : 'silence' },
  };
}
