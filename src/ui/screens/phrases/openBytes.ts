import { ExchangeError, testFromMidi, testFromMusicXml } from '../../../exchange/index.ts';
import type { ImportOptions } from '../../../exchange/index.ts';
import type { PracticeTest } from '../../../music/score.ts';
import type { Task } from '../../../music/task.ts';
import { parseTest, ShortCodeError, TestFormatError } from '../../../tests-engine/index.ts';

/** A test, a task of another kind, or one sentence why there is none. */
export type Opened =
  { readonly test: PracticeTest } | { readonly other: Task } | { readonly refused: string };

/** What a reader gives, checked as from any source. @param none what is said where it gives nothing */
export function opened(read: () => PracticeTest | null, none = ''): Opened {
  try {
    const test = read();
    return test ? { test: parseTest(test) } : { refused: none };
  } catch (error) {
    if (error instanceof ExchangeError || error instanceof TestFormatError || error instanceof ShortCodeError)
      return { refused: error.message };
    throw error;
  }
}

/** "MThd": the first four bytes of every Standard MIDI File. */
const isMidi = (bytes: Uint8Array): boolean => [0x4d, 0x54, 0x68, 0x64].every((byte, i) => bytes[i] === byte);

/** A phrase from the bytes of a MIDI or MusicXML file, whatever the file is called. */
export const openBytes = (bytes: Uint8Array, options: ImportOptions): Opened =>
  opened(() => (isMidi(bytes) ? testFromMidi(bytes, options) : testFromMusicXml(bytes, options)));
