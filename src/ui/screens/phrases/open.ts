import {
  BeyondInstrument,
  ExchangeError,
  testFromHash,
  testFromMidi,
  testFromMusicXml,
  titleIn,
} from '../../../exchange/index.ts';
import type { PracticeTest } from '../../../music/score.ts';
import { checkTask } from '../../../music/schema/index.ts';
import type { Task } from '../../../music/task.ts';
import {
  harmonised,
  parseTest,
  ShortCodeError,
  TestFormatError,
  testFromCode,
} from '../../../tests-engine/index.ts';
import type { Settings } from '../../settings/types.ts';
import { tuningOf } from '../../session/choose.ts';
import { t } from '../../messages.ts';

/** A test, or one sentence why there is none. */
export type Opened =
  { readonly test: PracticeTest } | { readonly other: Task } | { readonly refused: string };

/** A phrase of a file, with what it is called and by how many octaves it had to be moved; or why there is none. */
export type OpenedFile =
  | { readonly test: PracticeTest; readonly name: string | null; readonly octaves: number }
  | { readonly refused: string };

function opened(
  read: () => PracticeTest | null,
): { readonly test: PracticeTest } | { readonly refused: string } {
  try {
    const test = read();
    return test ? { test: parseTest(test) } : { refused: t('phrases.code.none') };
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
 * A teacher's phrase from a file of a notation program, for the instrument and tuning of the settings, with chords of
 * its own behind it. It is called what the file calls it, or as the file is called.
 */
export function openFile(bytes: Uint8Array, settings: Settings, fileName = ''): OpenedFile {
  const options = {
    kind: 'melody',
    instrument: settings.instrument,
    tuning: tuningOf(settings).strings,
    style: 'rock',
  } as const;
  const read = isMidi(bytes) ? testFromMidi : testFromMusicXml;
  const name = titleIn(bytes) ?? fromFileName(fileName);
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
    if ('test' in found) return { ...found, name, octaves };
    refused ??= found;
    if (!beyond) break;
  }
  return refused!;
}

/** The test, or the task of another kind, behind an address's hash. */
export function openHash(hash: string): Opened {
  let other: Task | null = null;
  const ear = opened(() => {
    const task = testFromHash(hash);
    if (task === null || 'question' in task) return task;
    other = task;
    return null;
  });
  if (other === null) return ear;
  const checked = checkTask(other);
  return 'task' in checked
    ? { other: checked.task }
    : { refused: t('opened.refused', { wrong: checked.wrong }) };
}

/** The test of a whole link, of what stands after its `#`, or of a short code. */
export function openText(text: string): Opened {
  const typed = text.trim();
  const hash = typed.slice(typed.indexOf('#') + 1);
  if (hash.startsWith('test=')) return openHash(hash);
  return opened(() => (/^[0-9a-z\s-]{4,30}$/i.test(typed) ? testFromCode(typed) : null));
}
