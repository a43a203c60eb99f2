import { open, type FileHandle } from 'node:fs/promises';
import { energyOf, ExchangeError, readFrames, readLayout, type WavLayout } from '../exchange/index.ts';
import { because } from './because.ts';
import { UsageError } from './io.ts';

/** A recording that is read block by block: an hour takes no more memory than a minute. */
export interface BlockedWav {
  readonly sampleRate: number;
  readonly lengthSec: number;
  /** The louder channel, from its first sample to its last. */
  blocks(): AsyncGenerator<Float32Array>;
  close(): Promise<void>;
}

/** Where the samples begin later than this (pictures before the sound), the file is read whole. */
const HEAD_BYTES = 2 ** 20;
const BLOCK_BYTES = 2 ** 20;

/**
 * Opens a WAV file for reading in blocks.
 * @returns null for what must be read whole: a pipe, or a header without end
 * @throws UsageError, one sentence
 */
export async function openBlocked(path: string): Promise<BlockedWav | null> {
  let file: FileHandle | null = null;
  try {
    file = await open(path, 'r');
    const stat = await file.stat();
    const head = stat.isFile() ? await readAt(file, 0, Math.min(stat.size, HEAD_BYTES)) : null;
    const layout = head && readLayout(head, stat.size);
    if (!layout) {
      await file.close();
      return null;
    }
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

async function readAt(file: FileHandle, at: number, length: number): Promise<Uint8Array> {
  const bytes = new Uint8Array(length);
  let filled = 0;
  while (filled < length) {
    const { bytesRead } = await file.read(bytes, filled, length - filled, at + filled);
    if (bytesRead === 0) throw new ExchangeError('The WAV file became shorter while it was read; try again.');
    filled += bytesRead;
  }
  return bytes;
}

async function* channelOf(
  file: FileHandle,
  layout: WavLayout,
  channel: number,
): AsyncGenerator<Float32Array> {
  const { start, frames, frameBytes } = layout;
  const each = Math.floor(BLOCK_BYTES / frameBytes);
  for (let frame = 0; frame < frames; frame += each) {
    const count = Math.min(each, frames - frame);
    yield readFrames(layout, await readAt(file, start + frame * frameBytes, count * frameBytes), channel);
  }
}

/** The channel with more energy, as `louderChannel` has it. */
async function louder(file: FileHandle, layout: WavLayout): Promise<number> {
  if (layout.format.channels === 1) return 0;
  const energies = [0, 0];
  for (const channel of [0, 1])
    for await (const block of channelOf(file, layout, channel))
      energies[channel] = energyOf(block, energies[channel]);
  return energies[1]! > energies[0]! ? 1 : 0;
}
