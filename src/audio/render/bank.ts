import { MANIFEST } from './manifest.ts';
import type { SampleEntry } from './manifest.ts';
import { SYNC_SEC, syncCentreSec } from './sync.ts';

/** A sound ready to be played: where its beat lies in `buffer`, and how to bring it to the common footing. */
export interface BankSound {
  readonly entry: SampleEntry;
  readonly buffer: AudioBuffer;
  /** From the buffer's first sample to the instant that falls on the beat, seconds. */
  readonly attackSec: number;
}

/** Every sound of the app, decoded at one sample rate, by id ("guitar.40", "kick", "three"). */
export type Bank = ReadonlyMap<string, BankSound>;

/**
 * Decodes all sound files.
 *
 * @param loadAsset gives a file's bytes; called once for each of `MANIFEST.files`
 * @param context decodes and resamples to its own rate
 * @throws Error naming the file when one cannot be fetched, decoded, or lacks its sync burst
 */
export async function loadBank(
  loadAsset: (name: string) => Promise<ArrayBuffer>,
  context: BaseAudioContext,
): Promise<Bank> {
  const files = await Promise.all(
    MANIFEST.files.map(async (name) => {
      try {
        const decoded = await context.decodeAudioData(await loadAsset(name));
        return cutFile(name, decoded, context);
      } catch (cause) {
        throw new Error(`sound file ${name} cannot be loaded`, { cause });
      }
    }),
  );
  return new Map(files.flat().map((sound) => [sound.entry.id, sound]));
}

function cutFile(name: string, file: AudioBuffer, context: BaseAudioContext): BankSound[] {
  const rate = file.sampleRate;
  const data = file.getChannelData(0);
  const shift = syncCentreSec(data, rate) - SYNC_SEC;
  return MANIFEST.samples
    .filter((entry) => entry.file === name)
    .map((entry) => {
      const from = Math.round((entry.startSec + shift) * rate);
      const length = Math.round(entry.lengthSec * rate);
      const buffer = context.createBuffer(1, length, rate);
      buffer.copyToChannel(data.slice(from, from + length), 0);
      return { entry, buffer, attackSec: entry.startSec + shift + entry.attackSec - from / rate };
    });
}
