import { ExchangeError, testFromHash, testFromMidi, testFromMusicXml } from '../../../exchange/index.ts';
import type { PracticeTest } from '../../../music/score.ts';
import { parseTest, ShortCodeError, TestFormatError, testFromCode } from '../../../tests-engine/index.ts';
import type { Settings } from '../../settings/types.ts';
import { tuningOf } from '../../session/choose.ts';
import { t } from '../../messages.ts';

/** A test, or one sentence why there is none. */
export type Opened = { readonly test: PracticeTest } | { readonly refused: string };

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

/** The test behind an address's hash. */
export const openHash = (hash: string): Opened => opened(() => testFromHash(hash));

/** The test of a whole link, of what stands after its `#`, or of a short code. */
export function openText(text: string): Opened {
  const typed = text.trim();
  const hash = typed.slice(typed.indexOf('#') + 1);
  if (hash.startsWith('test=')) return openHash(hash);
  return opened(() => (/^[0-9a-z\s-]{4,30}$/i.test(typed) ? testFromCode(typed) : null));
}
