import { written, type Task } from '../music/task.ts';
import { t } from './messages.ts';
import { keyName } from './names.ts';
import { printed } from './chordSymbol.ts';

/** Chords of a test that are named in a line. */
const NAMED_CHORDS = 4;

/** "Melody 3": what a task is, in a list. */
export const taskName = (task: Task): string =>
  `${t(`start.kind.${task.kind}`)} ${written(task)?.level ?? ''}`.trim();

/** What tells it from others of its kind: the key; of chords the first few names. */
export function taskAbout(task: Task): string {
  if ('phrase' in task) return keyName(task.key);
  const names = task.chords.map(({ symbol }) => printed(symbol));
  return names.slice(0, NAMED_CHORDS).join(' ') + (names.length > NAMED_CHORDS ? ' …' : '');
}
