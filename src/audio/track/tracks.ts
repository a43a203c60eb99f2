import type { EarWorker } from '../ear/earWorker.ts';
import type { ReadyTrack } from './mixTrack.ts';
import type { Tracks } from './types.ts';

/** 32 hex digits of SHA-256. */
async function idOf(bytes: Uint8Array<ArrayBuffer>): Promise<string> {
  const hash = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return [...hash.subarray(0, 16)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

export function createTracks(context: BaseAudioContext, ear: EarWorker): Tracks {
  const { sampleRate } = context;
  const plain = new Map<string, Float32Array<ArrayBuffer>>();
  // The last tempo asked for alone: five minutes are 58 MB.
  let made: { readonly key: string; readonly track: Promise<ReadyTrack> } | null = null;
  const samplesOf = (id: string): Float32Array<ArrayBuffer> => {
    const samples = plain.get(id);
    if (!samples) throw new RangeError(`the recording ${id} was not brought`);
    return samples;
  };
  return {
    async bring(bytes) {
      const id = await idOf(bytes);
      let buffer: AudioBuffer;
      try {
        // Decoding takes the bytes away from whoever has them.
        buffer = await context.decodeAudioData(bytes.slice().buffer);
      } catch {
        return null;
      }
      const mono = new Float32Array(buffer.length);
      for (let c = 0; c < buffer.numberOfChannels; c++) {
        const channel = buffer.getChannelData(c);
        for (let n = 0; n < mono.length; n++) mono[n]! += channel[n]! / buffer.numberOfChannels;
      }
      plain.clear();
      plain.set(id, mono);
      made = null;
      return { id, durationSec: buffer.duration };
    },
    has: (id) => plain.has(id),
    findBeats: (id, wish) => ear.findBeats(samplesOf(id), sampleRate, wish),
    ready({ id, stretch }) {
      const key = `${id} ${stretch.toFixed(4)}`;
      if (made?.key === key) return made.track;
      const track = (async (): Promise<ReadyTrack> => {
        const samples = samplesOf(id);
        const paced =
          Math.abs(stretch - 1) < 1e-4 ? samples : await ear.stretch(samples, sampleRate, stretch);
        return { samples: paced, measured: await ear.measure(paced, sampleRate) };
      })();
      made = { key, track };
      track.catch(() => (made = null));
      return track;
    },
  };
}
