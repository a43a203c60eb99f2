import * as v from 'valibot';
import type { Task } from '../task.ts';
import { checkTest } from './checkTest.ts';
import { chordTest } from './chordTest.ts';
import { improvisingTask, readingTask, scaleTask } from './test.ts';

/** What became of an unknown value that should be a task of any kind. `wrong`: one clause. */
export type CheckedTask =
  { readonly task: Task } | { readonly why: 'newer' | 'none'; readonly wrong: string };

/** Kinds that are no ear tests; those are checked by {@link checkTest}, which also knows newer words of theirs. */
const SCHEMAS = {
  reading: readingTask,
  scale: scaleTask,
  chords: chordTest,
  improvising: improvisingTask,
} as const;

/** Checks an unknown value and hands it back as a task, or says what is wrong with it. Never throws. */
export function checkTask(json: unknown): CheckedTask {
  const kind = typeof json === 'object' && json !== null ? (json as { kind?: unknown }).kind : null;
  if (typeof kind !== 'string' || !Object.hasOwn(SCHEMAS, kind)) {
    const checked = checkTest(json);
    return 'test' in checked ? { task: checked.test } : checked;
  }
  const { version } = json as { version?: unknown };
  if (typeof version === 'number' && version > 1)
    return { why: 'newer', wrong: `it has version ${version}, this Twobar reads version 1` };
  const parsed = v.safeParse(SCHEMAS[kind as keyof typeof SCHEMAS] as v.GenericSchema, json, {
    abortEarly: true,
  });
  if (parsed.success) return { task: parsed.output as Task };
  const [issue] = parsed.issues;
  const path = v.getDotPath(issue);
  return { why: 'none', wrong: path === null ? issue.message : `${path}: ${issue.message}` };
}
