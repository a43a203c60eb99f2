import { testFromHash, type ImportOptions } from '../../../exchange/index.ts';
import { checkTask } from '../../../music/schema/index.ts';
import type { Task } from '../../../music/task.ts';
import { testFromCode } from '../../../tests-engine/index.ts';
import type { Settings } from '../../settings/types.ts';
import { tuningOf } from '../../session/choose.ts';
import { t } from '../../messages.ts';
import { opened, openBytes, type Opened, type OpenedFile } from './openBytes.ts';
import type { PhraseFile } from './open.worker.ts';

export type { Opened, OpenedFile } from './openBytes.ts';

const optionsOf = (settings: Settings): ImportOptions => ({
  kind: 'melody',
  instrument: settings.instrument,
  tuning: [...tuningOf(settings).strings],
  style: 'rock',
});

/** A teacher's phrase from a file of a notation program, for the instrument and tuning of the settings. */
export const openFile = (bytes: Uint8Array, settings: Settings, fileName = ''): OpenedFile =>
  openBytes(bytes, optionsOf(settings), fileName);

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
    worker.onmessage = ({ data }: MessageEvent<OpenedFile>) => resolve(data);
    worker.onerror = () => resolve({ refused: t('phrases.file.slow') });
    worker.postMessage({ bytes, options: { ...optionsOf(settings) }, fileName } satisfies PhraseFile);
  }).finally(() => {
    clearTimeout(timer);
    worker.terminate();
  });
}

/** The test, or the task of another kind, behind an address's hash. */
export function openHash(hash: string): Opened {
  let other: Task | null = null;
  const ear = opened(() => {
    const task = testFromHash(hash);
    if (task === null || 'question' in task) return task;
    other = task;
    return null;
  }, t('phrases.code.none'));
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
  const isCode = /^[0-9a-z\s-]{4,30}$/i.test(typed);
  return opened(() => (isCode ? testFromCode(typed) : null), t('phrases.code.none'));
}
