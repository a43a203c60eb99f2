import { namedScale, type NotesTask } from '../../music/task.ts';

/** What a task's music is called where nobody has given it a name: the scale that is asked for, else its key. */
export function workTitle(task: NotesTask): string {
  const named = namedScale(task)?.named;
  return named ? `${named.tonic} ${named.kind}` : `${task.key.tonic} ${task.key.scale}`;
}
