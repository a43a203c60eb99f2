import type { ListenRequest, Recording, Sound } from '../../audio/types.ts';
import type { HeardTake } from '../../music/notes.ts';
import type { Instrument } from '../../music/score.ts';
import { OPEN_SPAN, takeOf, takenChords, type ChordsAsked, type TakeSpan } from '../../tests-engine/index.ts';
import type { Sounded } from './playing.ts';
import type { Latency } from './types.ts';

/** What is known about a take before it is heard. */
export interface TakeFacts {
  readonly recording: Recording;
  readonly instrument: Instrument;
  /** Sounding MIDI numbers of the open strings. */
  readonly tuning: readonly number[];
  /** Context frame at which beat 1 of bar 1 was sent to the loudspeaker. */
  readonly beatOneFrame: number;
  /** What the ear is asked where chords are; absent: it listens for single notes. */
  readonly chords?: ChordsAsked | undefined;
  /** Which notes are the take. */
  readonly span: TakeSpan;
  readonly sounded: readonly Sounded[];
  readonly headphones: boolean;
  /** Round trip as known before the take; what the take itself tells goes before it. */
  readonly latency: Omit<Latency, 'source'> & Partial<Pick<Latency, 'source'>>;
}

/** The take as heard: times count from beat 1 of bar 1 as the player heard it. */
export interface HeardFacts {
  readonly take: HeardTake;
  readonly latency: Latency;
  /** Sample of the recording at which beat 1 stands. */
  readonly zeroSample: number;
}

/** The delay found by cancelling is exact to a few samples; 2 ms covers the loudspeaker's distance. */
const MEASURED_HALF_WIDTH_SEC = 0.002;

/** One signal of all that sounded while the recording ran; null when nothing did. */
export function referenceOf(recording: Recording, sounded: readonly Sounded[]): ListenRequest['reference'] {
  const samples = new Float32Array(recording.samples.length);
  let any = false;
  for (const part of sounded) {
    const from = part.startFrame - recording.startFrame;
    for (let i = Math.max(0, -from); i < part.length && from + i < samples.length; i += 1) {
      samples[from + i] = (samples[from + i] ?? 0) + (part.samples[i] ?? 0);
      any = true;
    }
  }
  return any ? { samples, startFrame: recording.startFrame } : null;
}

/**
 * Hears the take and puts its notes on the player's clock. The round trip is taken from the cancelling of
 * the backing where that measured it, else from what was known before.
 */
export async function hearTake(
  sound: Pick<Sound, 'listen' | 'listenChords'>,
  facts: TakeFacts,
  onProgress: (share: number) => void,
): Promise<HeardFacts> {
  const { recording, beatOneFrame, latency } = facts;
  const reference = facts.headphones ? null : referenceOf(recording, facts.sounded);
  const heard = facts.chords
    ? await chordsOf(sound, facts, facts.chords, reference)
    : await sound.listen({
        recording,
        instrument: facts.instrument,
        tuning: facts.tuning,
        zeroFrame: beatOneFrame,
        reference,
        onProgress,
      });
  const measuredMs = heard.heard.delayMs ?? null;
  const known: Latency =
    measuredMs === null
      ? { source: 'reported', ...latency }
      : { sec: measuredMs / 1000, halfWidthSec: MEASURED_HALF_WIDTH_SEC, source: 'loudspeaker' };
  const latencySec = known.sec;
  return {
    take: takeOf(heard, { beatOneSec: 0, latencySec }, facts.span),
    latency: known,
    zeroSample: Math.round(beatOneFrame - recording.startFrame + latencySec * recording.sampleRate),
  };
}

/**
 * When a chord is asked for is known on the clock of what is sent out. With headphones nothing in the recording tells how much later
 * the player answers: what is known of the round trip moves the question, and the answer is moved back.
 */
async function chordsOf(
  sound: Pick<Sound, 'listenChords'>,
  { recording, tuning, beatOneFrame, latency }: TakeFacts,
  asked: ChordsAsked,
  reference: ListenRequest['reference'],
): Promise<HeardTake> {
  const laterSec = reference ? 0 : latency.sec;
  const zeroFrame = beatOneFrame + Math.round(laterSec * recording.sampleRate);
  const heard = await sound.listenChords({
    recording,
    zeroFrame,
    reference,
    tuning,
    ...asked,
  });
  return takeOf(takenChords(heard), { beatOneSec: 0, latencySec: -laterSec }, OPEN_SPAN);
}
