import { roomResponse } from './imageSource.ts';
import { makeSpeaker, throughSpeaker } from './speaker.ts';
import { addHiss } from '../effects/noise.ts';
import type { Random } from '../random.ts';
import { convolve } from '../../src/dsp/bleed/convolve.ts';

const HISS_DB = -64;

const rms = (x: ArrayLike<number>, from: number, to: number): number => {
  let sum = 0;
  for (let n = from; n < to; n++) sum += x[n]! ** 2;
  return Math.sqrt(sum / Math.max(1, to - from));
};

export interface RoomOptions {
  readonly sampleRate: number;
  /** Backing over guitar at the microphone from `from` to `to` (seconds), dB. */
  readonly bleedDb: number;
  readonly from: number;
  readonly to: number;
  readonly random: Random;
}

/** A player before a microphone in a furnished room, in which a loudspeaker plays what was sent. */
export function inRoom(
  signal: Float32Array,
  sent: Float32Array,
  { sampleRate, bleedDb, from, to, random }: RoomOptions,
): Float32Array<ArrayBuffer> {
  const box = {
    size: [4, 3.2, 2.5],
    source: [0.8, 1, 1],
    microphone: [random.between(1.5, 2), random.between(0.8, 1.6), 0.9],
    rt60: 0.35,
  } as const;
  const bleed = convolve(
    throughSpeaker(sent, makeSpeaker(random), sampleRate),
    roomResponse(box, sampleRate),
  );
  const span = [Math.round(from * sampleRate), Math.min(signal.length, Math.round(to * sampleRate))] as const;
  const gain = (rms(signal, ...span) / rms(bleed, ...span)) * 10 ** (bleedDb / 20);
  const recording = Float32Array.from(signal, (v, n) => v + gain * (bleed[n] ?? 0));
  addHiss(recording, HISS_DB, sampleRate, random);
  return recording;
}
