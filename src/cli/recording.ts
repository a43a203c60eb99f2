import { open, type FileHandle } from 'node:fs/promises';
import { energyOf, ExchangeError, readFrames, readLayout, type WavLayout } from '../exchange/index.ts';
import { because } from './because.ts';
import { UsageError } from './io.ts';
import { spooled } from './spool.ts';

/** A recording that is read block by block: an hour takes no more memory than a minute. */
export interface BlockedWav {
  readonly sampleRate: number;
  readonly lengthSec: number;
  /** The louder channel, from its first sample to its last. */
  blocks(): AsyncGenerator<Float32Array>;
  close(): Promise<void>;
}

/** A header ends in its first kilobytes; pictures may lie before the sound, this many bytes of them. */
const HEADS_BYTES = [2 ** 16, 2 ** 26] as const;
/** Small enough that what is no longer needed of it does not pile up before it is cleared away. */
const BLOCK_BYTES = 2 ** 18;

/**
 * Opens a WAV file, or what comes out of a pipe, for reading in blocks.
 * @throws UsageError, one sentence
 */
export async function openBlocked(path: string): Promise<BlockedWav> {
  let file: FileHandle | null = null;
  try {
    file = await open(path, 'r');
    const stat = await file.stat();
    if (stat.isDirectory()) throw new UsageError(`${path}: it is a folder`);
    if (!stat.isFile() && !stat.isFIFO()) throw new UsageError(`${path}: it is not a file`);
    if (stat.isFIFO()) file = await spooled(path, file);
    const { size } = await file.stat();
    const layout = await layoutOf(file, size);
    const channel = await louder(file, layout);
    const opened = file;
    return {
      sampleRate: layout.format.sampleRate,
      lengthSec: layout.frames / layout.format.sampleRate,
      blocks: () => channelOf(opened, layout, channel),
      close: () => opened.close(),
    };
  } catch (error) {
    await file?.close();
    if (error instanceof UsageError) throw error;
    if (error instanceof ExchangeError) throw new UsageError(`${path}: ${error.message}`, { cause: error });
    throw because('reading', path, error);
  }
}

async function layoutOf(file: FileHandle, size: number): Promise<WavLayout> {
  for (const bytes of HEADS_BYTES) {
    const layout = readLayout(await readAt(file, 0, Math.min(size, bytes)), size);
    if (layout) return layout;
  }
  throw new ExchangeError('wav-late', { most: HEADS_BYTES[1] / 2 ** 20 });
}

/** All samples of a recording that must be known whole, and how many there are a second. */
export async function readSamples(
  path: string,
  most: { readonly minutes: number; readonly why: string },
): Promise<{ readonly samples: Float32Array; readonly sampleRate: number }> {
  const wav = await openBlocked(path);
  try {
    const { sampleRate, lengthSec } = wav;
    if (lengthSec > most.minutes * 60)
      throw new UsageError(
        `${path}: it lasts ${Math.ceil(lengthSec / 60)} minutes; ${most.why} at most ${most.minutes} are read, so cut it to the take`,
      );
    const samples = new Float32Array(Math.round(lengthSec * sampleRate));
    let at = 0;
    for await (const block of wav.blocks()) {
      samples.set(block, at);
      at += block.length;
    }
    return { samples, sampleRate };
  } catch (error) {
    if (error instanceof UsageError) throw error;
    if (error instanceof ExchangeError) throw new UsageError(`${path}: ${error.message}`, { cause: error });
    throw (error as NodeJS.ErrnoException).code ? because('reading', path, error) : error;
  } finally {
    await wav.close();
  }
}

async function readAt(
  file: FileHandle,
  at: number,
  length: number,
  into = new Uint8Array(length),
): Promise<Uint8Array> {
  const bytes = into.subarray(0, length);
  let filled = 0;
  while (filled < length) {
    const { bytesRead } = await file.read(bytes, filled, length - filled, at + filled);
    if (bytesRead === 0) throw new ExchangeError('wav-shrank');
    filled += bytesRead;
  }
  return bytes;
}

/** The frames as they are stored, in blocks; each is good until the next is asked for. */
async function* framesOf(
  file: FileHandle,
  { start, frames, frameBytes }: WavLayout,
): AsyncGenerator<Uint8Array> {
  const each = Math.floor(BLOCK_BYTES / frameBytes);
  const bytes = new Uint8Array(each * frameBytes);
  for (let frame = 0; frame < frames; frame += each) {
    const count = Math.min(each, frames - frame);
    yield await readAt(file, start + frame * frameBytes, count * frameBytes, bytes);
  }
}

async function* channelOf(
  file: FileHandle,
  layout: WavLayout,
  channel: number,
): AsyncGenerator<Float32Array> {
  for await (const bytes of framesOf(file, layout)) yield readFrames(layout, bytes, channel);
}

/** The channel with more energy, as `louderChannel` has it. */
async function louder(file: FileHandle, layout: WavLayout): Promise<number> {
  if (layout.format.channels === 1) return 0;
  const energies = [0, 0];
  for await (const bytes of framesOf(file, layout))
    for (const channel of [0, 1])
      energies[channel] = energyOf(readFrames(layout, bytes, channel), energies[channel]);
  return energies[1]! > energies[0]! ? 1 : 0;
}
