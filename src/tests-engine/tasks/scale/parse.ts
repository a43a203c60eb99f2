import * as v from 'valibot';
import { firstIssue, scaleTask } from '../../../music/schema/index.ts';
import type { ScaleTask } from '../../../music/task.ts';

/** Reads a scale from JSON. @throws RangeError with the first thing that is wrong */
export function parseScale(json: unknown): ScaleTask {
  const parsed = v.safeParse(scaleTask, json, { abortEarly: true });
  if (!parsed.success) throw new RangeError(`this is no scale: ${firstIssue(parsed.issues)}`);
  return parsed.output as unknown as ScaleTask;
}
