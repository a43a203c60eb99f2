import {
  BeyondInstrument,
  ExchangeError,
  testFromMidi,
  testFromMusicXml,
  titleIn,
} from '../../../exchange/index.ts';
import type { ImportOptions } from '../../../exchange/index.ts';
import type { PracticeTest } from '../../../music/score.ts';
import type { Task } from '../../../music/task.ts';
import { harmonised, parseTest, ShortCodeError, TestFormatError } from '../../../tests-engine/index.ts';

/** A test, a task of another kind, or one sentence why there is none. */
export type Opened =
  { readonly test: PracticeTest } | { readonly other: Task } | { readonly refused: string };

/** A phrase of a file, with what it is called and by how many octaves it had to be moved; or why there is none. */
export type OpenedFile =
  | { readonly test: PracticeTest; readonly name: string | null; readonly octaves: number }
  | { readonly refused: string };

/** What a reader gives, checked as from any source. @param none what is said where it gives nothing */
export function opened(
  read: () => PracticeTest | null,
  none = '',
): { readonly test: PracticeTest } | { readonly refused: string } {
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

/** "blues_in_a-2.musicxml" → "blues in a 2"; null for a name without any. */
const fromFileName = (name: string): string | null =>
  name
    .replace(/\.(musicxml|mxl|xml|midi?)$/i, '')
    .replace(/[\s_-]+/g, ' ')
    .trim()
    .slice(0, 80) || null;

/** As it is; where the instrument does not have its notes, an octave lower, else higher: a plain clef says so little. */
const OCTAVES = [0, -1, 1];

/**
 * A teacher's phrase from the bytes of a MIDI or MusicXML file, whatever the file is called, with chords of its own
 * behind it. It is called what the file calls it, or as the file is called.
 */
export function openBytes(bytes: Uint8Array, options: ImportOptions, fileName = ''): OpenedFile {
  const read = isMidi(bytes) ? testFromMidi : testFromMusicXml;
  let refused: { readonly refused: string } | null = null;
  for (const octaves of OCTAVES) {
    let beyond = false;
    const found = opened(() => {
      try {
        const test = read(bytes, { ...options, octaves });
        return harmonised(test.swing === 0.5 ? test : { ...test, style: 'shuffle' });
      } catch (error) {
        beyond = error instanceof BeyondInstrument;
        throw error;
      }
    });
    if ('test' in found) return { ...found, name: titleIn(bytes) ?? fromFileName(fileName), octaves };
    refused ??= found;
    if (!beyond) break;
  }
  return refused!;
}
