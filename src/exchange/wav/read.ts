import { ExchangeError } from '../error.ts';
import { readRiff } from './chunks.ts';
import { readFormat, type WavFormat } from './format.ts';

/** A recording as numbers: every channel −1…1 (floating point files may go beyond), all of one length. */
export interface Wav {
  readonly sampleRate: number;
  readonly channels: readonly Float32Array<ArrayBuffer>[];
}

/** Longest recording read, s: a practice session, and 700 MB at most once it is numbers. */
export const LONGEST_SEC = 3600;
/** Lengths that writers to a pipe put where they don't know the length: all ones, or just under 2 GiB. */
const isUnknownLength = (declared: number) => declared >= 0x7fff_0000;

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

/**
 * Reads a WAV file: 8, 16, 24 or 32-bit integers, 32 or 64-bit floating point, one or two channels,
 * 8–192 kHz, plain or WAVE_FORMAT_EXTENSIBLE headers, with any other chunks and trailing junk.
 *
 * An own reader: of the library that was tried (wavefile 11) two minutes of mono take 2.5 s to decode, a
 * file that was cut short is taken for whole, and one mutated header in a few thousand asks for an array
 * without end.
 *
 * @throws ExchangeError, one sentence, for whatever is not such a file, is cut short, holds no samples or
 *   lasts longer than {@link LONGEST_SEC}.
 */
export function readWav(bytes: Uint8Array): Wav {
  const riff = readRiff(bytes);
  const format = readFormat(riff);
  const data = riff.chunks.find((c) => c.id === 'data');
  if (!data) throw new ExchangeError('The WAV file has no sound in it; it is damaged, export it again.');
  const there = bytes.length - data.start;
  const frameBytes = format.bytes * format.channels;
  if (data.declared > there && !isUnknownLength(data.declared))
    throw new ExchangeError(
      `The WAV file is cut short: ${there} of ${data.declared} bytes of sound are there; copy or export it again.`,
    );
  const frames = Math.floor(Math.min(data.declared, there) / frameBytes);
  if (frames === 0) throw new ExchangeError('The WAV file holds no samples; record again.');
  if (frames / format.sampleRate > LONGEST_SEC)
    throw new ExchangeError(
      `The WAV file lasts ${Math.round(frames / format.sampleRate / 60)} minutes; at most ${LONGEST_SEC / 60} are read, so cut it to the take.`,
    );
  const read = sampleReader(format);
  const { view, littleEndian } = riff;
  const channels = Array.from({ length: format.channels }, (_, channel) => {
    const samples = new Float32Array(frames);
    let at = data.start + channel * format.bytes;
    for (let i = 0; i < frames; i++, at += frameBytes) samples[i] = read(view, at, littleEndian);
    return samples;
  });
  return { sampleRate: format.sampleRate, channels };
}

/**
 * The channel with more energy: the one the instrument is plugged into. Never an average, in which a silent
 * or inverted second channel would do harm. NaN counts as nothing.
 */
export function louderChannel({ channels }: Wav): Float32Array<ArrayBuffer> {
  const energy = (samples: Float32Array) =>
    samples.reduce((sum, x) => (Number.isFinite(x) ? sum + x * x : sum), 0);
  const [left, right] = channels;
  if (!left) throw new RangeError('a recording has at least one channel');
  return right && energy(right) > energy(left) ? right : left;
}
