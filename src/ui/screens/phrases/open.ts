import { ExchangeError, testFromHash, testFromMidi, testFromMusicXml } from '../../../exchange/index.ts';
import type { PracticeTest } from '../../../music/score.ts';
import { checkTask } from '../../../music/schema/index.ts';
import type { Task } from '../../../music/task.ts';
import { parseTest, ShortCodeError, TestFormatError, testFromCode } from '../../../tests-engine/index.ts';
import type { Settings } from '../../settings/types.ts';
import { tuningOf } from '../../session/choose.ts';
import { t } from '../../messages.ts';

/** A test, or one sentence why there is none. */
export type Opened =
  { readonly test: PracticeTest } | { readonly other: Task } | { readonly refused: string };

function opened(read: () => PracticeTest | null): Opened {
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

/** A teacher's phrase from a file of a notation program, for the instrument and tuning of the settings. */
export function openFile(bytes: Uint8Array, settings: Settings): Opened {
  const options = {
    kind: 'melody',
    instrument: settings.instrument,
    tuning: tuningOf(settings).strings,
    style: 'rock',
  } as const;
  return opened(() => (isMidi(bytes) ? testFromMidi(bytes, options) : testFromMusicXml(bytes, options)));
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
