import * as v from 'valibot';
import { firstIssue, readingTask } from '../../../music/schema/index.ts';
import type { ReadingTask } from '../../../music/task.ts';

/** Reads a page to read from JSON. @throws RangeError with the first thing that is wrong */
export function parseReading(json: unknown): ReadingTask {
  const parsed = v.safeParse(readingTask, json, { abortEarly: true });
  if (!parsed.success) throw new RangeError(`this is no page to read: ${firstIssue(parsed.issues)}`);
  return parsed.output as unknown as ReadingTask;
}
