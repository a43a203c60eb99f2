import { hearChordTake } from '../../dsp/index.ts';
import type { HeardChords } from '../../music/chords/index.ts';
import { sec } from '../../music/units.ts';
import type { ChordsRequest } from '../types.ts';
import { missingAfter, MOST_MISSING_SEC, onCounterOf } from './listen.ts';

/**
 * Hears the chords of a recording; times count from `zeroFrame`, what was asked as well. With a reference, what it left in the
 * recording is cancelled first. Pure, so it runs in a worker and in tests.
 */
export function listenChords(request: ChordsRequest): HeardChords {
  const { recording, zeroFrame, reference, asked, expectedSec, tuning, driven, free } = request;
  const { samples, sampleRate, startFrame } = recording;
  if (samples.length === 0 || missingAfter(recording, zeroFrame) > MOST_MISSING_SEC * sampleRate)
    return { strums: [], heard: { verdict: 'refused', reason: 'no-stream' } };
  const zeroSec = (zeroFrame - startFrame) / sampleRate;
  const { strums, heard } = hearChordTake(samples, sampleRate, {
    asked: asked.map((a) => ({ ...a, fromSec: a.fromSec + zeroSec, toSec: a.toSec + zeroSec })),
    expectedSec: expectedSec.map((at) => at + zeroSec),
    fromSec: Math.max(0, Math.min(zeroSec, samples.length / sampleRate)),
    reference: reference && onCounterOf(recording, reference),
    lowest: Math.min(...tuning),
    ...(driven === null ? {} : { driven }),
    ...(free ? { free } : {}),
  });
  return {
    heard,
    strums: strums.map((strum) => ({
      ...strum,
      firstSec: sec(strum.firstSec - zeroSec),
      fullSec: sec(strum.fullSec - zeroSec),
      untilSec: sec(strum.untilSec - zeroSec),
    })),
  };
}
