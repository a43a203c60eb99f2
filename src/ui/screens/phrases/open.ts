import { testFromHash, type ImportOptions } from '../../../exchange/index.ts';
import { checkTask } from '../../../music/schema/index.ts';
import type { PracticeTest } from '../../../music/score.ts';
import type { Task } from '../../../music/task.ts';
import { parseTest, testFromCode } from '../../../tests-engine/index.ts';
import type { Settings } from '../../settings/types.ts';
import { tuningOf } from '../../settings/tuningOf.ts';
import { t } from '../../messages.ts';
import { refusalText } from '../../refusalText.ts';
import { tried } from '../../refused.ts';
import { openBytes, type ReadFile } from './openBytes.ts';
import type { PhraseFile } from './open.worker.ts';

/** A test, a task of another kind, or one sentence why there is none. */
export type Opened =
  { readonly test: PracticeTest } | { readonly other: Task } | { readonly refused: string };

/** A phrase of a file, or one sentence why there is none. */
export type OpenedFile = Exclude<ReadFile, { refused: unknown }> | { readonly refused: string };

const inWords = (file: ReadFile): OpenedFile =>
  'refused' in file ? { refused: refusalText(file.refused) } : file;

const optionsOf = (settings: Settings): ImportOptions => ({
  kind: 'melody',
  instrument: settings.instrument,
  tuning: [...tuningOf(settings).strings],
  style: 'rock',
});

/** A teacher's phrase from a file of a notation program, for the instrument and tuning of the settings. */
export const openFile = (bytes: Uint8Array, settings: Settings, fileName = ''): OpenedFile =>
  inWords(openBytes(bytes, optionsOf(settings), fileName));

/** Longest look at a file of at most 4 MiB, ms; the slowest that is read takes a second. */
const MOST_MS = 5000;

/** The same in a worker, which is ended when it takes too long. */
export function openFileApart(
  bytes: Uint8Array<ArrayBuffer>,
  settings: Settings,
  fileName: string,
): Promise<OpenedFile> {
  const worker = new Worker(new URL('./open.worker.ts', import.meta.url), { type: 'module' });
  let timer: ReturnType<typeof setTimeout> | undefined;
  return new Promise<OpenedFile>((resolve) => {
    timer = setTimeout(() => resolve({ refused: t('phrases.file.slow') }), MOST_MS);
    worker.onmessage = ({ data }: MessageEvent<ReadFile>) => resolve(inWords(data));
    worker.onerror = () => resolve({ refused: t('phrases.file.slow') });
    worker.postMessage({ bytes, options: { ...optionsOf(settings) }, fileName } satisfies PhraseFile);
  }).finally(() => {
    clearTimeout(timer);
    worker.terminate();
  });
}

/** The test, or the task of another kind, behind an address's hash. */
export function openHash(hash: string): Opened {
  const found = tried(() => {
    const task = testFromHash(hash);
    return task !== null && 'question' in task ? { test: parseTest(task) } : { other: task };
  });
  if ('refused' in found) return { refused: refusalText(found.refused) };
  const { test, other } = found.read;
  if (test) return { test };
  if (!other) return { refused: t('phrases.code.none') };
  const checked = checkTask(other);
  if ('task' in checked) return { other: checked.task };
  return {
    refused: refusalText({ code: checked.why === 'newer' ? 'test-newer' : 'test-unread', values: {} }),
  };
}

/** The test of a whole link, of what stands after its `#`, or of a short code. */
export function openText(text: string): Opened {
  const typed = text.trim();
  const hash = typed.slice(typed.indexOf('#') + 1);
  if (hash.startsWith('test=')) return openHash(hash);
  const isCode = /^[0-9a-z\s-]{4,30}$/i.test(typed);
  if (!isCode) return { refused: t('phrases.code.none') };
  const found = tried(() => parseTest(testFromCode(typed)));
  return 'refused' in found ? { refused: refusalText(found.refused) } : { test: found.read };
}
