import { ExchangeError } from '../error.ts';
import { readRiff } from './chunks.ts';
import { readFormat, type WavFormat } from './format.ts';

/** Where the samples of a WAV file lie, and how each is written. */
export interface WavLayout {
  readonly format: WavFormat;
  readonly littleEndian: boolean;
  /** Offset of the first sample in the file, bytes. */
  readonly start: number;
  /** Samples a channel. */
  readonly frames: number;
  readonly frameBytes: number;
}

/** Longest recording read, s: a practice session. */
const LONGEST_SEC = 3600;
/** Lengths that writers to a pipe put where they don't know the length: all ones, or just under 2 GiB. */
const isUnknownLength = (declared: number) => declared >= 0x7fff_0000;

/**
 * Reads and checks everything before the samples.
 *
 * @param head the file's first bytes, or all of them
 * @param size of the whole file, bytes
 * @returns null where the samples begin behind the head
 * @throws ExchangeError, one sentence, for whatever is no such file, is cut short, holds no samples or lasts longer
 *   than {@link LONGEST_SEC}.
 */
export function readLayout(head: Uint8Array, size: number): WavLayout | null {
  const riff = readRiff(head);
  const data = riff.chunks.find((c) => c.id === 'data');
  if (!data && head.length < size) return null;
  const format = readFormat(riff);
  if (!data) throw new ExchangeError('wav-no-sound');
  const there = size - data.start;
  const frameBytes = format.bytes * format.channels;
  const declared = data.declared === 0xffff_ffff && riff.longData !== null ? riff.longData : data.declared;
  const unknown = riff.longData === null && isUnknownLength(declared);
  if (declared > there && !unknown) throw new ExchangeError('wav-cut', { there, declared });
  const frames = Math.floor(Math.min(declared, there) / frameBytes);
  if (frames === 0) throw new ExchangeError('wav-no-samples');
  if (frames / format.sampleRate > LONGEST_SEC)
    throw new ExchangeError('wav-long', {
      minutes: Math.round(frames / format.sampleRate / 60),
      most: LONGEST_SEC / 60,
    });
  return { format, littleEndian: riff.littleEndian, start: data.start, frames, frameBytes };
}

type ReadSample = (view: DataView, at: number, littleEndian: boolean) => number;

function sampleReader({ encoding, bytes }: WavFormat): ReadSample {
  if (encoding === 'float')
    return bytes === 4
      ? (view, at, le) => view.getFloat32(at, le)
      : (view, at, le) => view.getFloat64(at, le);
  switch (bytes) {
    case 1: // 8-bit samples alone are unsigned
      return (view, at) => (view.getUint8(at) - 128) / 2 ** 7;
    case 2:
      return (view, at, le) => view.getInt16(at, le) / 2 ** 15;
    case 3:
      return (view, at, le) =>
        (le
          ? (view.getInt8(at + 2) << 16) | view.getUint16(at, true)
          : (view.getInt8(at) << 16) | view.getUint16(at + 1, false)) /
        2 ** 23;
    default:
      return (view, at, le) => view.getInt32(at, le) / 2 ** 31;
  }
}

/** One channel of some whole frames, −1…1 (floating point files may go beyond). */
export function readFrames(
  { format, littleEndian, frameBytes }: WavLayout,
  bytes: Uint8Array,
  channel: number,
): Float32Array<ArrayBuffer> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const read = sampleReader(format);
  const samples = new Float32Array(Math.floor(bytes.length / frameBytes));
  let at = channel * format.bytes;
  for (let i = 0; i < samples.length; i++, at += frameBytes) samples[i] = read(view, at, littleEndian);
  return samples;
}

/** Energy of samples on top of what was there; NaN and infinities count as nothing. */
export const energyOf = (samples: Float32Array, before = 0): number =>
  samples.reduce((sum, x) => (Number.isFinite(x) ? sum + x * x : sum), before);
