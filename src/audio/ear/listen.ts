import { hearTake } from '../../dsp/index.ts';
import type { HeardTake } from '../../notes.ts';
import { cents, sec } from '../../units.ts';
import type { ListenRequest } from '../types.ts';

/** A take with more missing than this cannot be judged: a quaver at 140 bpm (214 ms) may hide in it. */
const MOST_MISSING_SEC = 0.2;

/** What crosses into the worker: a request without its callback. */
export type ListenInput = Omit<ListenRequest, 'onProgress'>;

/** Hears a recording; note times count from `zeroFrame`. Pure, so it runs in a worker and in tests. */
export function listen({ recording, instrument, zeroFrame }: ListenInput): HeardTake {
  const { samples, sampleRate, startFrame, gaps } = recording;
  const missing = gaps.reduce(
    (sum, [frame, length]) => sum + Math.max(0, length - Math.max(0, zeroFrame - frame)),
    0,
  );
  if (samples.length === 0 || missing > MOST_MISSING_SEC * sampleRate)
    return { notes: [], tuningCents: cents(0), heard: { verdict: 'refused', reason: 'no-stream' } };
  const take = hearTake(samples, sampleRate, { instrument });
  const shift = (startFrame - zeroFrame) / sampleRate;
  return {
    ...take,
    notes: take.notes.map((note) => ({
      ...note,
      onsetSec: sec(note.onsetSec + shift),
      offsetSec: sec(note.offsetSec + shift),
    })),
  };
}
