import { hearOverBacking, hearTake } from '../../dsp/index.ts';
import type { HeardTake } from '../../music/notes.ts';
import { cents, sec } from '../../music/units.ts';
import type { ListenRequest, Recording } from '../types.ts';

/** A take with more missing than this cannot be judged: a quaver at 140 bpm (214 ms) may hide in it. */
export const MOST_MISSING_SEC = 0.2;
/** Heard before the zero frame with headphones: half a beat at 40 bpm (0.75 s) and some; the rest is the hearing. */
const LEAD_SEC = 1;

/** What crosses into the worker: a request without its callback. */
export type ListenInput = Omit<ListenRequest, 'onProgress'>;

/**
 * Hears a recording; note times count from `zeroFrame`. With a reference, what it left in the recording is
 * cancelled first. Pure, so it runs in a worker and in tests.
 */
export function listen(
  { recording, instrument, tuning, zeroFrame, reference }: ListenInput,
  onProgress: (share: number) => void = () => undefined,
): HeardTake {
  const { samples, sampleRate, startFrame, gaps } = recording;
  if (samples.length === 0 || missingAfter(recording, zeroFrame) > MOST_MISSING_SEC * sampleRate)
    return { notes: [], tuningCents: cents(0), heard: { verdict: 'refused', reason: 'no-stream' } };
  const zeroSec = (zeroFrame - startFrame) / sampleRate;
  const missing = gaps.map(([frame, length]) => ({ at: frame - startFrame, length }));
  if (reference) {
    const take = hearOverBacking(samples, sampleRate, {
      instrument,
      tuning,
      reference: onCounterOf(recording, reference),
      fromSec: Math.max(0, zeroSec),
      missing,
      onProgress,
    });
    return shifted(take, -zeroSec);
  }
  const from = Math.max(0, Math.round((zeroSec - LEAD_SEC) * sampleRate));
  return shifted(
    hearTake(samples.subarray(from), sampleRate, {
      ...{ instrument, tuning },
      missing: missing.map(({ at, length }) => ({ at: at - from, length })),
    }),
    from / sampleRate - zeroSec,
  );
}

export function missingAfter({ gaps }: Recording, zeroFrame: number): number {
  return gaps.reduce((sum, [frame, length]) => sum + Math.max(0, length - Math.max(0, zeroFrame - frame)), 0);
}

/** The reference over the recording's own span: sample i of both is the same context frame. */
export function onCounterOf(
  { samples, startFrame }: Recording,
  reference: NonNullable<ListenRequest['reference']>,
): Float32Array {
  const aligned = new Float32Array(samples.length);
  const skip = startFrame - reference.startFrame;
  const part = reference.samples.subarray(Math.max(0, skip), Math.max(0, skip + samples.length));
  aligned.set(part, Math.max(0, -skip));
  return aligned;
}

const shifted = (take: HeardTake, bySec: number): HeardTake => ({
  ...take,
  notes: take.notes.map((note) => ({
    ...note,
    onsetSec: sec(note.onsetSec + bySec),
    offsetSec: sec(note.offsetSec + bySec),
  })),
});
