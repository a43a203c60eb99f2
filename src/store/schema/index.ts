import * as v from 'valibot';
import { checkTask } from '../../music/schema/index.ts';
import type { Task } from '../../music/task.ts';
import { ImportProblem } from '../problem.ts';
import type { Records } from '../types.ts';
import { MOST } from '../limits.ts';
import { firstIssue, records, TABLE_NAMES, tables } from './records.ts';

export { TABLE_NAMES };

/**
 * Checks a whole set of records.
 * @throws ImportProblem 'too-big' for more rows than a table may have, 'invalid' naming the first thing that cannot be.
 */
export function checkRecords(value: unknown): Records {
  for (const table of TABLE_NAMES) {
    const rows = typeof value === 'object' && value !== null ? (value as Partial<Records>)[table] : undefined;
    if (Array.isArray(rows) && rows.length > MOST.rows[table])
      throw new ImportProblem('too-big', `${table} has ${rows.length} rows`);
  }
  const result = v.safeParse(records, value, { abortEarly: true });
  if (!result.success) throw new ImportProblem('invalid', firstIssue(result.issues));
  return result.output as unknown as Records;
}

/**
 * Checks one record of a table and makes it plain JSON (−0 becomes 0), so that what is kept is what a file
 * can hold. @throws TypeError: what the app itself writes must fit.
 */
export function checkOwn<T extends keyof Records>(table: T, value: Records[T][number]): Records[T][number] {
  const result = v.safeParse(tables[table] as v.GenericSchema, value, { abortEarly: true });
  if (!result.success) throw new TypeError(`${table} record does not fit: ${firstIssue(result.issues)}`);
  return JSON.parse(JSON.stringify(result.output)) as Records[T][number];
}

/** Checks one task that came in by link. @throws ImportProblem 'invalid', or 'newer-version' for words not known yet. */
export function checkedTask(value: unknown): Task {
  const checked = checkTask(value);
  if ('task' in checked) return checked.task;
  throw new ImportProblem(checked.why === 'newer' ? 'newer-version' : 'invalid', checked.wrong);
}
