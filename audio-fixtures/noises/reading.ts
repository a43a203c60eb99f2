import { BANK_RATE, decodeFile } from '../banks/decode.ts';
import { openSoundFont } from '../banks/soundFont.ts';
import type { SoundFont } from '../banks/soundFont.ts';

/** A blow on a hollow body, a hard tap or click, something rubbed. */
export type NoiseKind = 'body' | 'tap' | 'rub';

export type NoiseSide = 'fit' | 'more' | 'tried' | 'kept';

/** Recorded noises of one origin: what no string gives. See README.md for licences. */
export interface NoiseSource {
  /**
   * `fit`: what the decision may learn from; `more`: what the third look may learn from besides; `tried`: what neither learns
   * from, and by which features and limits are chosen; `kept`: what neither hears before it is judged.
   */
  readonly side: NoiseSide;
  readonly path: string;
  /** Names of recordings by kind. */
  readonly names: Readonly<Record<NoiseKind, readonly string[]>>;
  readonly read: (name: string) => Promise<{ pcm: Float32Array; sampleRate: number }>;
}

/** A recording of one name at several strengths. */
export const strengths = (name: string, ...of: string[]): string[] => of.map((how) => `${name}-${how}`);

/** An audio file, whole. */
export const decoded = async (path: string) => ({ pcm: await decodeFile(path), sampleRate: BANK_RATE });

/** Reads recordings of a sound font by name. @throws RangeError where it has none of that name */
export function inFont(path: string): NoiseSource['read'] {
  let font: SoundFont | null = null;
  return (name) => {
    font ??= openSoundFont(path);
    const sample = font.samples.find((one) => one.name === name);
    if (!sample) throw new RangeError(`${path} has no recording "${name}"`);
    return Promise.resolve({ pcm: font.read(sample), sampleRate: sample.sampleRate });
  };
}
