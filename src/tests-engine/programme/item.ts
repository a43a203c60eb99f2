import { handlerOf, type Task } from '../tasks/index.ts';

/** How a task that was set was played. */
export interface Way {
  /** Tempo of the take / tempo as set. */
  readonly tempoFactor: number;
  /** Which half alone was played; null: the whole. */
  readonly half: 'first' | 'second' | null;
}

const HALVES = [null, 'first', 'second'] as const;

/** What is asked for in a task, whatever its tempo and its backing. */
function asked(task: Task): string {
  const { kind, seed } = task;
  return JSON.stringify('phrase' in task ? [kind, seed, task.key, task.phrase] : [kind, seed, task.chords]);
}

/** Whether `played` is a take of the task `set`, at any tempo, whole or by halves, and how; null: it is another task. */
export function wayOf(set: Task, played: Task): Way | null {
  const wanted = asked(played);
  const sounded = (half: Way['half']): Task =>
    handlerOf(set).sounded(set, { tempoFactor: 1, half, count: 'spoken', repeat: 1 });
  const found = HALVES.find((half) => wanted === asked(half === null ? set : sounded(half)));
  return found === undefined ? null : { tempoFactor: played.tempoBpm / set.tempoBpm, half: found };
}
