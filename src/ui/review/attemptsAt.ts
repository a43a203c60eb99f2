import { written, type Task } from '../../music/task.ts';
import type { Attempt } from '../../store/index.ts';

/** What makes it the same test for whoever plays it, whatever the tempo it was taken at. */
function asked(task: Task): string {
  const notes = written(task);
  if (!notes) return JSON.stringify({ ...task, seed: null, tempoBpm: null });
  const { kind, instrument, phrase } = notes;
  return JSON.stringify([
    kind,
    instrument,
    phrase.metre,
    phrase.bars,
    phrase.notes.map((n) => [n.startTicks, n.durationTicks, n.midi]),
  ]);
}

/** Those attempts that were at this test, oldest first. */
export function attemptsAt(test: Task, attempts: readonly Attempt[]): readonly Attempt[] {
  const wanted = asked(test);
  return attempts.filter((one) => asked(one.test) === wanted).sort((a, b) => a.order - b.order);
}
