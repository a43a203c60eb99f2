import {
  createListener,
  createResampler,
  hearOverBacking,
  hearStrums,
  hearStrumsOver,
  type HearOptions,
  type StrumOptions,
  type StrumsOver,
} from '../dsp/index.ts';
import { ExchangeError } from '../exchange/index.ts';
import type { HeardTake } from '../music/notes.ts';
import { because } from './because.ts';
import { UsageError } from './io.ts';
import { openBlocked, readSamples, type BlockedWav } from './recording.ts';
import { tidy } from './tidy.ts';

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

export interface Recording {
  readonly samples: Float32Array;
  readonly sampleRate: number;
  /** What the loudspeaker was given, over the same span; null without a backing. */
  readonly over: { readonly reference: Float32Array; readonly fromSec: number } | null;
}

/**
 * What is learnt of a backing, and of the strings in chords, is learnt of the whole recording: it is held whole. A hearing, ten
 * minutes of practice and a take of sixteen slow bars are in it.
 */
const MOST_MINUTES = 15;

/** A recording from a file, with what the loudspeaker was given brought onto its clock. */
export async function readRecording(path: string, backing: Backing | null): Promise<Recording> {
  const most = { minutes: MOST_MINUTES, why: backing ? 'with a backing' : 'of chords' };
  const { samples, sampleRate } = await readSamples(path, most);
  if (!backing) return { samples, sampleRate, over: null };
  if (backing.fromSec >= samples.length / sampleRate)
    throw new UsageError(
      `${path}: it lasts ${(samples.length / sampleRate).toFixed(2)} s; the take cannot start at ${backing.fromSec} s`,
    );
  const sent = await readSamples(backing.path, most);
  const reference = over(atRate(sent.samples, sent.sampleRate, sampleRate), samples.length);
  return { samples, sampleRate, over: { reference, fromSec: backing.fromSec } };
}

/**
 * Hears an instrument in a recording from a file; with a backing, what the loudspeaker added is taken out first.
 * Without one the file is heard as it is read, in blocks: an hour takes no more memory than a minute.
 */
export async function listenTo(
  path: string,
  { instrument, tuning }: HearOptions,
  backing: Backing | null = null,
  progress: (share: number) => void = () => undefined,
): Promise<HeardTake> {
  if (!backing) return heardIn(await openBlocked(path), { instrument, tuning }, path, progress);
  const { samples, sampleRate, over: sent } = await readRecording(path, backing);
  try {
    return hearOverBacking(samples, sampleRate, {
      ...{ instrument, tuning },
      ...sent!,
      onProgress: (share) => progress(Math.min(0.999, share)),
    });
  } finally {
    progress(1);
  }
}

/** Some passes of the listener, which hears a minute at a time, between two. */
const TIDY_SEC = 20;

async function heardIn(
  wav: BlockedWav,
  options: HearOptions,
  path: string,
  progress: (share: number) => void,
): Promise<HeardTake> {
  const { sampleRate, lengthSec } = wav;
  const listener = createListener({ ...options, sampleRate });
  try {
    let samples = 0;
    let untidySec = 0;
    for await (const block of wav.blocks()) {
      listener.push(block);
      samples += block.length;
      if ((untidySec += block.length / sampleRate) > TIDY_SEC) {
        untidySec = 0;
        tidy();
      }
      progress(Math.min(0.999, samples / sampleRate / lengthSec));
    }
    return listener.finish();
  } catch (error) {
    if (error instanceof ExchangeError) throw new UsageError(`${path}: ${error.message}`, { cause: error });
    throw (error as NodeJS.ErrnoException).code ? because('reading', path, error) : error;
  } finally {
    progress(1);
    await wav.close();
  }
}

/** The strums of a recording, in the same two ways. */
export async function strumsOf(
  path: string,
  backing: Backing | null = null,
  expected: StrumOptions = {},
): Promise<StrumsOver> {
  const { samples, sampleRate, over: sent } = await readRecording(path, backing);
  return sent
    ? hearStrumsOver(samples, sampleRate, { ...sent, ...expected })
    : { strums: hearStrums(samples, sampleRate, expected), delayMs: null };
}
