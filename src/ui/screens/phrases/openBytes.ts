import {
  BeyondInstrument,
  isMidi,
  testFromMidi,
  testFromMusicXml,
  titleIn,
} from '../../../exchange/index.ts';
import type { ImportOptions } from '../../../exchange/index.ts';
import type { PracticeTest } from '../../../music/score.ts';
import { harmonised, parseTest } from '../../../tests-engine/index.ts';
import { tried, type Refused } from '../../refused.ts';

/** A phrase of a file, with what it is called and by how many octaves it had to be moved; or why there is none. */
export type ReadFile =
  | { readonly test: PracticeTest; readonly name: string | null; readonly octaves: number }
  | { readonly refused: Refused };

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
export function openBytes(bytes: Uint8Array, options: ImportOptions, fileName = ''): ReadFile {
  const read = isMidi(bytes) ? testFromMidi : testFromMusicXml;
  let refused: { readonly refused: Refused } | null = null;
  for (const octaves of OCTAVES) {
    let beyond = false;
    const found = tried(() => {
      try {
        const test = read(bytes, { ...options, octaves });
        return parseTest(harmonised(test.swing === 0.5 ? test : { ...test, style: 'shuffle' }));
      } catch (error) {
        beyond = error instanceof BeyondInstrument;
        throw error;
      }
    });
    if ('read' in found) return { test: found.read, name: titleIn(bytes) ?? fromFileName(fileName), octaves };
    refused ??= found;
    if (!beyond) break;
  }
  return refused!;
}
