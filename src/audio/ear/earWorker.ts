import { proxy } from 'comlink';
import type { HeardChords } from '../../music/chords/index.ts';
import type { HeardTake } from '../../music/notes.ts';
import type { BeatWish } from '../track/types.ts';
import type { FoundBeats, MeasuredTrip } from '../../dsp/index.ts';
import type { Measured } from '../render/level.ts';
import type { ChordsRequest } from '../types.ts';
import { remote } from '../../workers/index.ts';
import type { ListenInput } from './listen.ts';
import type { Ear } from './ear.worker.ts';

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

export function startEarWorker(): EarWorker {
  const worker = new Worker(new URL('./ear.worker.ts', import.meta.url), { type: 'module' });
  const ask = remote<Ear>(worker, 'the ear');
  return {
    async listen(input, onProgress) {
      onProgress?.(0);
      const take = await ask((ear) => ear.listen(input, onProgress && proxy(onProgress)));
      onProgress?.(1);
      return take;
    },
    listenChords: (request) => ask((ear) => ear.listenChords(request)),
    measure: (samples, sampleRate) => ask((ear) => ear.measure(samples, sampleRate)),
    findProbe: (samples, sentAt, sampleRate) => ask((ear) => ear.findProbe(samples, sentAt, sampleRate)),
    findBeats: (samples, sampleRate, wish) => ask((ear) => ear.findBeats(samples, sampleRate, wish)),
    stretch: (samples, sampleRate, by) => ask((ear) => ear.stretch(samples, sampleRate, by)),
    close: () => worker.terminate(),
  };
}
