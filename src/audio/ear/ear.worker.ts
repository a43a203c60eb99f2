/** Heavy work off the page's thread: hearing takes, measuring loudness. One job at a time, in order. */
import { expose, transfer } from 'comlink';
import { findBeats, findProbe, makeProbe, onsetStrength } from '../../dsp/index.ts';
import { measure } from '../render/level.ts';
import { stretched } from '../track/stretch.ts';
import type { BeatWish } from '../track/types.ts';
import { listen } from './listen.ts';
import { listenChords } from './listenChords.ts';

type Samples = Float32Array<ArrayBuffer>;

const ear = {
  listen,
  listenChords,
  measure,
  findProbe: (samples: Samples, sentAt: number, sampleRate: number) =>
    findProbe(samples, sentAt, makeProbe(sampleRate)),
  findBeats: (samples: Samples, sampleRate: number, wish: BeatWish) =>
    findBeats(onsetStrength(samples, sampleRate), wish),
  async stretch(samples: Samples, sampleRate: number, by: number): Promise<Samples> {
    const slower = await stretched(samples, sampleRate, by);
    return transfer(slower, [slower.buffer]);
  },
};
export type Ear = typeof ear;

expose(ear);
