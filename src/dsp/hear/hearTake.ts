import type { HeardTake } from '../../music/notes.ts';
import { createListener } from './listener.ts';
import type { HearOptions } from './listener.ts';

export type { HearOptions };

/**
 * Hears a recorded take: which notes were plucked, when, how sure that is, and whether the take may be marked.
 * Onsets and pitches come from a re-hearing with look-ahead at 44.1 kHz, to which other rates are resampled.
 * Whatever the samples are, it answers: NaN and infinities count as silence and are said in `heard`.
 *
 * @param signal mono samples, full scale ±1 (louder floats are fine); not changed
 * @param sampleRate 8000…192000 Hz
 * @throws RangeError for a rate outside the range or a tuning that is none
 */
export function hearTake(signal: Float32Array, sampleRate: number, options: HearOptions): HeardTake {
  const listener = createListener({ ...options, sampleRate });
  listener.push(signal);
  return listener.finish();
}
