import { written, type Task } from '../music/task.ts';
import { t } from './messages.ts';
import { keyName } from './names.ts';
import { printed } from './chordSymbol.ts';

/** Chords of a test that are named in a line. */
const NAMED_CHORDS = 4;

/** "Melody, level 3": what a task is, in a list; "Melody" where it has no level. */
export function taskName(task: Task): string {
  const kind = t(`start.kind.${task.kind}`);
  const level = written(task)?.level ?? null;
  return level === null ? kind : t('progress.series', { kind, level });
}

/** What tells it from others of its kind: the key; of chords the first few names. */
export function taskAbout(task: Task): string {
  if ('phrase' in task) return keyName(task.key);
  const names = task.chords.map(({ symbol }) => printed(symbol));
  return names.slice(0, NAMED_CHORDS).join(' ') + (names.length > NAMED_CHORDS ? ' …' : '');
}
