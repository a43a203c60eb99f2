import * as v from 'valibot';
import { firstIssue, improvisingTask } from '../../../music/schema/index.ts';
import type { ImprovisingTask } from '../../../music/task.ts';

/** Reads a chart to improvise over from JSON. @throws RangeError with the first thing that is wrong */
export function parseImprovising(json: unknown): ImprovisingTask {
  const parsed = v.safeParse(improvisingTask, json, { abortEarly: true });
  if (!parsed.success)
    throw new RangeError(`this is no chart to improvise over: ${firstIssue(parsed.issues)}`);
  return parsed.output as unknown as ImprovisingTask;
}
