import type { HeardChords } from '../../music/chords/index.ts';
import type { HeardTake } from '../../music/notes.ts';
import type { BeatWish } from '../track/types.ts';
import type { FoundBeats, MeasuredTrip } from '../../dsp/index.ts';
import type { Measured } from '../render/level.ts';
import type { ChordsRequest } from '../types.ts';
import type { ListenInput } from './listen.ts';
import type { EarAnswer, EarJob } from './protocol.ts';

/** The page's side of the ear worker. */
export interface EarWorker {
  listen(input: ListenInput, onProgress?: (share: number) => void): Promise<HeardTake>;
  listenChords(request: ChordsRequest): Promise<HeardChords>;
  measure(samples: Float32Array<ArrayBuffer>, sampleRate: number): Promise<Measured>;
  /** Where the latency probe came back; null when it is not surely heard. */
  findProbe(
    samples: Float32Array<ArrayBuffer>,
    sentAt: number,
    sampleRate: number,
  ): Promise<MeasuredTrip | null>;
  /** Tempo and first bar of a recording. */
  findBeats(
    samples: Float32Array<ArrayBuffer>,
    sampleRate: number,
    wish: BeatWish,
  ): Promise<FoundBeats | null>;
  /** A recording slower at the same pitch. */
  stretch(
    samples: Float32Array<ArrayBuffer>,
    sampleRate: number,
    stretch: number,
  ): Promise<Float32Array<ArrayBuffer>>;
  close(): void;
}

type Body = EarAnswer['body'];
type Job = EarJob extends infer J ? (J extends EarJob ? Omit<J, 'id'> : never) : never;

export function startEarWorker(): EarWorker {
  const worker = new Worker(new URL('./ear.worker.ts', import.meta.url), { type: 'module' });
  const open = new Map<
    number,
    { done(body: Body): void; fail(error: Error): void; onProgress?: (share: number) => void }
  >();
  let serial = 0;
  let broken: Error | null = null;
  worker.onmessage = ({ data: { id, body } }: MessageEvent<EarAnswer>) => {
    const job = open.get(id);
    if (body.type === 'progress') return job?.onProgress?.(body.share);
    open.delete(id);
    if (body.type === 'failed') job?.fail(new Error(`the ear failed: ${body.message}`));
    else job?.done(body);
  };
  // A worker that failed to load answers nothing, now or later.
  worker.onerror = ({ message }) => {
    broken = new Error(`the ear worker failed: ${message}`);
    open.forEach(({ fail }) => fail(broken!));
    open.clear();
  };
  const ask = (job: Job, onProgress?: (share: number) => void): Promise<Body> =>
    new Promise((done, fail) => {
      if (broken) return fail(broken);
      const id = serial++;
      open.set(id, { done, fail, ...(onProgress ? { onProgress } : {}) });
      worker.postMessage({ ...job, id });
    });
  return {
    async listen(input, onProgress) {
      onProgress?.(0);
      const body = await ask({ type: 'listen', input }, onProgress);
      if (body.type !== 'heard') throw new TypeError(`expected what was heard, got ${body.type}`);
      onProgress?.(1);
      return body.take;
    },
    async listenChords(input) {
      const body = await ask({ type: 'chords', input });
      if (body.type !== 'chords') throw new TypeError(`expected chords, got ${body.type}`);
      return body.chords;
    },
    async measure(samples, sampleRate) {
      const body = await ask({ type: 'measure', samples, sampleRate });
      if (body.type !== 'measured') throw new TypeError(`expected a measurement, got ${body.type}`);
      return body.measured;
    },
    async findProbe(samples, sentAt, sampleRate) {
      const body = await ask({ type: 'findProbe', samples, sentAt, sampleRate });
      if (body.type !== 'trip') throw new TypeError(`expected a round trip, got ${body.type}`);
      return body.trip;
    },
    async findBeats(samples, sampleRate, wish) {
      const body = await ask({ type: 'beats', samples, sampleRate, wish });
      if (body.type !== 'foundBeats') throw new TypeError(`expected beats, got ${body.type}`);
      return body.beats;
    },
    async stretch(samples, sampleRate, by) {
      const body = await ask({ type: 'stretch', samples, sampleRate, stretch: by });
      if (body.type !== 'stretched') throw new TypeError(`expected samples, got ${body.type}`);
      return body.samples;
    },
    close: () => worker.terminate(),
  };
}
