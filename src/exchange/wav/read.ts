import { energyOf, readFrames, readLayout } from './layout.ts';

/** A recording as numbers: every channel −1…1 (floating point files may go beyond), all of one length. */
export interface Wav {
  readonly sampleRate: number;
  readonly channels: readonly Float32Array<ArrayBuffer>[];
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
 *   lasts longer than an hour.
 */
export function readWav(bytes: Uint8Array): Wav {
  const layout = readLayout(bytes, bytes.length)!;
  const { format, start, frames, frameBytes } = layout;
  const sound = bytes.subarray(start, start + frames * frameBytes);
  const channels = Array.from({ length: format.channels }, (_, channel) =>
    readFrames(layout, sound, channel),
  );
  return { sampleRate: format.sampleRate, channels };
}

/**
 * The channel with more energy: the one the instrument is plugged into. Never an average, in which a silent
 * or inverted second channel would do harm. NaN counts as nothing.
 */
export function louderChannel({ channels }: Wav): Float32Array<ArrayBuffer> {
  const [left, right] = channels;
  if (!left) throw new RangeError('a recording has at least one channel');
  return right && energyOf(right) > energyOf(left) ? right : left;
}
