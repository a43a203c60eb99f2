import { createResampler, hearOverBacking, hearTake, type HearOptions } from '../dsp/index.ts';
import { louderChannel } from '../exchange/index.ts';
import type { HeardTake } from '../music/notes.ts';
import { readWavFile } from './files.ts';
import { UsageError } from './io.ts';

/** What the loudspeaker was given while a recording was made, and from when on notes are wanted. */
export interface Backing {
  readonly path: string;
  readonly fromSec: number;
}

/** A signal at another rate. */
function atRate(samples: Float32Array, from: number, to: number): Float32Array {
  if (from === to) return samples;
  const resampler = createResampler(from, to);
  const parts: Float32Array[] = [];
  const keep = (part: Float32Array) => void parts.push(part.slice());
  resampler.push(samples, keep);
  resampler.finish(keep);
  const whole = new Float32Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

/** The same signal over exactly `length` samples: cut, or silent at the end. */
function over(samples: Float32Array, length: number): Float32Array {
  const fitted = new Float32Array(length);
  fitted.set(samples.subarray(0, length));
  return fitted;
}

/** Hears an instrument in a recording from a file; with a backing, what the loudspeaker added is taken out first. */
export async function listenTo(
  path: string,
  { instrument, tuning }: HearOptions,
  backing: Backing | null = null,
): Promise<HeardTake> {
  const wav = await readWavFile(path);
  const samples = louderChannel(wav);
  const { sampleRate } = wav;
  if (!backing) return hearTake(samples, sampleRate, { instrument, tuning });
  if (backing.fromSec >= samples.length / sampleRate)
    throw new UsageError(
      `${path}: it lasts ${(samples.length / sampleRate).toFixed(2)} s; the take cannot start at ${backing.fromSec} s`,
    );
  const sent = await readWavFile(backing.path);
  const reference = over(atRate(louderChannel(sent), sent.sampleRate, sampleRate), samples.length);
  return hearOverBacking(samples, sampleRate, { instrument, tuning, reference, fromSec: backing.fromSec });
}
