import type { Recording } from '../types.ts';
import { energyOf } from './chooseChannel.ts';
import type { CaptureChunk } from './protocol.ts';

/** Chunks kept while nothing is recorded, so that a command that arrives late still finds its first frame. */
const HISTORY_SEC = 1;

/**
 * Keeps captured chunks in memory between two context frames and joins them to one mono recording. Frames that
 * never arrived are zeros and are listed as gaps.
 */
export interface Recorder {
  push(chunk: CaptureChunk): void;
  /** Keeps everything from this frame on; what arrived up to a second ago counts too. */
  record(fromFrame: number): void;
  /** True when frames up to `toFrame` have arrived. */
  reached(toFrame: number): boolean;
  /** The recording [fromFrame, toFrame), and forgets it. @throws TypeError when nothing was recorded */
  finish(toFrame: number): Recording;
}

export function createRecorder(sampleRate: number, wanted: number | 'louder'): Recorder {
  let chunks: CaptureChunk[] = [];
  let from: number | null = null;
  let next = 0;
  return {
    push(chunk) {
      chunks.push(chunk);
      next = chunk.frame + chunk.length;
      if (from === null)
        while (chunks.length > 0 && chunks[0]!.frame + chunks[0]!.length < next - HISTORY_SEC * sampleRate)
          chunks.shift();
    },
    record(fromFrame) {
      from = fromFrame;
      chunks = chunks.filter(({ frame, length }) => frame + length > fromFrame);
    },
    reached: (toFrame) => next >= toFrame,
    finish(toFrame) {
      if (from === null) throw new TypeError('nothing is being recorded: call record first');
      const recording = join(chunks, from, toFrame, sampleRate, wanted);
      from = null;
      chunks = [];
      return recording;
    },
  };
}

function join(
  chunks: readonly CaptureChunk[],
  from: number,
  to: number,
  sampleRate: number,
  wanted: number | 'louder',
): Recording {
  const samples = new Float32Array(Math.max(0, to - from));
  const channel = wanted === 'louder' ? louderOf(chunks) : wanted;
  const gaps: [number, number][] = [];
  let filled = from;
  const gapUntil = (frame: number): void => {
    if (frame > filled) gaps.push([filled, frame - filled]);
  };
  for (const { frame, length, channels } of chunks) {
    const data = channels[Math.min(channel, channels.length - 1)];
    const start = Math.max(frame, filled);
    const end = Math.min(frame + length, to);
    if (!data || end <= start) continue;
    gapUntil(start);
    samples.set(data.subarray(start - frame, end - frame), start - from);
    filled = end;
  }
  gapUntil(to);
  return { samples, sampleRate, startFrame: from, gaps };
}

/** One channel for a whole take, so that no switch is heard in it. */
function louderOf(chunks: readonly CaptureChunk[]): number {
  const energies: number[] = [];
  for (const { channels } of chunks)
    channels.forEach((samples, c) => (energies[c] = (energies[c] ?? 0) + energyOf(samples)));
  return Math.max(0, energies.indexOf(Math.max(...energies)));
}
