import { makeProbe, tripFromNotes } from '../../dsp/index.ts';
import type { MeasuredTrip } from '../../dsp/index.ts';
import type { EarWorker } from '../ear/earWorker.ts';
import type { LoopbackOptions, NotesOptions, Rendered, Sound } from '../types.ts';
import { recordWhile, TAIL_SEC, type MeasuringSound } from './recordWhile.ts';

/**
 * More than this missing, s, and the glides are not what was sent. Less is zeros at its place on the frame counter and
 * moves nothing; blocks that were lost without the counter knowing show by the two glides lying apart.
 */
const MOST_MISSING_SEC = 0.05;

/** Plays the probe once and asks the worker where it came back. */
export async function measureLoopback(
  sound: MeasuringSound & Pick<Sound, 'sampleRate'>,
  ear: Pick<EarWorker, 'findProbe'>,
  { headphonesOff, ...options }: LoopbackOptions,
): Promise<MeasuredTrip | null> {
  if (headphonesOff !== true)
    throw new TypeError(
      'the probe sounds only after "headphones off" was confirmed: headphonesOff must be true',
    );
  const heard = await recordWhile(sound, makeProbe(sound.sampleRate), TAIL_SEC, options);
  if (!heard) return null;
  const { recording, startFrame } = heard;
  const missing = recording.gaps
    .filter(([frame, length]) => frame + length > startFrame)
    .reduce((sum, [, length]) => sum + length, 0);
  if (missing > MOST_MISSING_SEC * recording.sampleRate) return null;
  return ear.findProbe(recording.samples, startFrame - recording.startFrame, recording.sampleRate);
}

/** Plays clicks and hears the notes that are played with those marked `beat`. */
export async function measureWithNotes(
  sound: MeasuringSound,
  ear: Pick<EarWorker, 'listen'>,
  clicks: Rendered,
  { instrument, ...options }: NotesOptions,
): Promise<MeasuredTrip | null> {
  const clickSec = clicks.marks.filter(({ label }) => label === 'beat').map(({ atSec }) => atSec);
  const heard = await recordWhile(sound, clicks, TAIL_SEC, options);
  if (!heard) return null;
  const { recording, startFrame: zeroFrame } = heard;
  const take = await ear.listen({ recording, instrument, zeroFrame, reference: null });
  return tripFromNotes(
    clickSec,
    take.notes.map(({ onsetSec }) => onsetSec),
  );
}
