import * as v from 'valibot';
import type { Incoming, Membership } from '../../studio/index.ts';
import type { Row } from '../backup/merge.ts';
import { ImportProblem } from '../problem.ts';
import { TABLE_NAMES } from '../schema/index.ts';
import { migrate, SCHEMA_VERSION } from '../schema/migrations.ts';
import { tables } from '../schema/records.ts';
import type { MergedTable } from '../types.ts';
import { OF_A_STUDENTS_DEVICE, ownerOf, SHARED_SETTINGS } from './log.ts';

/** Stamps are milliseconds since 1970; beyond the year 30000 no clock is only wrong. */
const MOST_STAMP = 1e15;

/** A row of a studio that may come in. */
export interface Arrived {
  readonly at: string;
  readonly table: MergedTable;
  readonly key: string;
  readonly studentId: string;
  readonly stamp: number;
  readonly item: string;
  /** Null where it was deleted. */
  readonly row: Row | null;
  /** Where `row` is null: it has gone to another student, and was not deleted. */
  readonly moved: boolean;
  /** By a student's device: it is added, and never takes the place of anything. */
  readonly byStudent: boolean;
}

/**
 * What came in, if it is a row of the present schema, of the student it was sent for, and by somebody who may write it.
 * @returns null for what may not come in
 * @throws ImportProblem 'newer-version' for a row that only a newer app understands
 */
export function arrived({ studio, role: own }: Membership, given: Incoming): Arrived | null {
  const { schema, key, stamp, item, scope, moved } = given;
  if (schema > SCHEMA_VERSION) throw new ImportProblem('newer-version', `a row of schema version ${schema}`);
  const table = TABLE_NAMES.find((name) => name === given.table);
  if (table === undefined || schema < 1 || stamp < 0 || stamp > MOST_STAMP || !/^[0-9a-f]{32}$/.test(item))
    return null;
  const byStudent = given.role === 'student';
  if (byStudent && (!OF_A_STUDENTS_DEVICE.has(table) || given.row === null)) return null;
  if (table === 'settings' && (own !== 'teacher' || !SHARED_SETTINGS.has(key))) return null;
  const studentId = scope === studio ? '' : scope;
  const place = { at: `${table} ${key}`, table, key, studentId, stamp, item, moved, byStudent };
  if (given.row === null) return table === 'students' ? null : { ...place, row: null };
  const lifted = migrate({ [table]: [given.row] }, schema) as Record<string, unknown[]>;
  const parsed = v.safeParse(tables[table] as v.GenericSchema, lifted[table]?.[0], { abortEarly: true });
  if (!parsed.success) return null;
  const row = JSON.parse(JSON.stringify(parsed.output)) as Row;
  const itsKey = 'id' in row ? row.id : row.key;
  if (itsKey !== key || ownerOf(table, key, row as unknown as Record<string, unknown>) !== studentId)
    return null;
  return { ...place, row };
}

/** Cuts a page where a row comes a second time, so that each is taken in by itself, in the order of the server. */
export function inGroups(rows: readonly Arrived[]): Arrived[][] {
  const groups: Arrived[][] = [[]];
  let seen = new Set<string>();
  for (const row of rows) {
    if (seen.has(row.at)) {
      groups.push([]);
      seen = new Set();
    }
    seen.add(row.at);
    groups.at(-1)!.push(row);
  }
  return groups;
}
