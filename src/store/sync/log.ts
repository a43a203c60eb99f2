import Dexie from 'dexie';
import type { DBCore, DBCoreMutateRequest, DBCoreTable, DBCoreTransaction, Middleware } from 'dexie';
import { randomId } from '../ids.ts';
import { nextOrder } from '../order.ts';
import type { VersionRow } from '../rows.ts';
import { TABLE_NAMES } from '../schema/records.ts';
import { AWAY, awayAfter, beforeOf, DELETED, STANDS } from './rules.ts';

/** Where the last stamp of a change is kept, in `meta`. */
export const LAST_STAMP = 'lastStamp';
/** In `versions`: this machine is in a studio, so its changes are written down. */
export const IN_STUDIO = '';
/** Settings that belong to all desks of a studio; every other is of this machine. */
export const SHARED_SETTINGS: ReadonlySet<string> = new Set(['thresholds', 'questionCounts', 'rubric']);

/**
 * What a transaction takes in from the studio, by table and key: whoever takes it in writes down its version. Each says it
 * for its own transaction, and only until those rows are written.
 */
const arriving = new WeakMap<object, ReadonlySet<string>>();
/** Only inside a transaction. @param rows table and key of each; empty: from here on every write is a change again */
export function takeIn(rows: ReadonlySet<string>): void {
  const trans = (Dexie.currentTransaction as unknown as { readonly idbtrans: object }).idbtrans;
  if (rows.size === 0) arriving.delete(trans);
  else arriving.set(trans, rows);
}

/** Whose rows go with their student in a transaction, and which rows go with an attempt that is no longer seen from here. */
const leaving = new WeakMap<
  object,
  { readonly studentId: string | null; readonly rows: ReadonlySet<string> }
>();
/**
 * Until the end of the transaction what is deleted of this student, or of these rows, was not deleted by itself: it keeps its
 * version, so that where another machine has moved it away it lives. Only inside a transaction.
 * @param rows table and key of each
 */
export function goWith(studentId: string | null, rows: ReadonlySet<string> = new Set()): void {
  const trans = (Dexie.currentTransaction as unknown as { readonly idbtrans: object }).idbtrans;
  leaving.set(trans, { studentId, rows });
}

const LOGGED: ReadonlySet<string> = new Set(TABLE_NAMES);
/** What a student's device writes down: it appends takes and sittings, and changes nothing that comes from the desk. */
export const OF_A_STUDENTS_DEVICE: ReadonlySet<string> = new Set(['attempts', 'sittings']);

/**
 * Writes down each change of the record in the transaction that makes it, whichever part of the app does, so that no
 * way of writing can be forgotten. Clearing a whole table is not a change of the record: it is this machine leaving.
 */
export const logChanges = (now: () => number): Middleware<DBCore> => ({
  stack: 'dbcore',
  name: 'studio-log',
  create: (down) => ({
    ...down,
    transaction(stores, mode, options) {
      const wider =
        mode === 'readwrite' && stores.some((store) => LOGGED.has(store))
          ? [...new Set([...stores, 'versions', 'meta'])]
          : stores;
      return down.transaction(wider, mode, options);
    },
    table(name) {
      const table = down.table(name);
      if (!LOGGED.has(name)) return table;
      return {
        ...table,
        mutate: async (request) => {
          // While the database itself is brought up to date the log may not be there yet, and nothing of a studio is.
          const upgrading = (request.trans as Partial<IDBTransaction>).mode === 'versionchange';
          if (request.type === 'deleteRange' || upgrading) return table.mutate(request);
          const versions = down.table('versions');
          const role: string | undefined = (await versions.get({ trans: request.trans, key: IN_STUDIO }))
            ?.table;
          const answer = await table.mutate(request);
          const logged = role === 'teacher' || (role === 'student' && OF_A_STUDENTS_DEVICE.has(name));
          if (logged && answer.numFailures === 0) await note({ down, versions, now }, name, request);
          return answer;
        },
      };
    },
  }),
});

type Written = { readonly key: string; readonly row: Record<string, unknown> | null };

interface Log {
  readonly down: DBCore;
  readonly versions: DBCoreTable;
  readonly now: () => number;
}

async function note(
  { down, versions, now }: Log,
  table: string,
  request: Exclude<DBCoreMutateRequest, { type: 'deleteRange' }>,
): Promise<void> {
  const keyPath = table === 'settings' ? 'key' : 'id';
  const written: Written[] =
    request.type === 'delete'
      ? request.keys.map((key) => ({ key: String(key), row: null }))
      : request.values.map((row: Record<string, unknown>) => ({ key: String(row[keyPath]), row }));
  const coming = arriving.get(request.trans as object);
  const kept = written.filter(
    ({ key }) => (table !== 'settings' || SHARED_SETTINGS.has(key)) && !coming?.has(`${table} ${key}`),
  );
  if (kept.length === 0) return;
  const { trans } = request;
  const before: (VersionRow | undefined)[] = await versions.getMany({
    ...{ trans, keys: kept.map(({ key }) => `${table} ${key}`) },
  });
  let stamp = await takeStamps(down, trans, kept.length, now());
  const goes = leaving.get(trans);
  const rows = kept.map(({ key, row }, i): VersionRow => {
    const old = before[i];
    const at = `${table} ${key}`;
    if (row === null && old && table !== 'students' && goes) {
      if (old.studentId === goes.studentId) return forgotten(old);
      if (goes.rows.has(at))
        return { ...old, gone: AWAY, pending: 0, before: null, awayFrom: [], sent: true };
    }
    const studentId = ownerOf(table, key, row) ?? old?.studentId ?? '';
    return {
      ...{ at, table, key, studentId, stamp: stamp++, item: randomId(), pending: 1, sent: false },
      ...{ before: beforeOf(old, studentId), awayFrom: awayAfter(old, studentId) },
      gone: row === null ? DELETED : STANDS,
    };
  });
  await versions.mutate({ type: 'put', trans, values: rows });
}

/** What is left of the version of a row that went with its student: when, and from whom it is still to be told away. */
export const forgotten = (row: VersionRow): VersionRow => ({
  ...row,
  ...{ studentId: '', before: null, sent: true, pending: row.awayFrom.length > 0 ? 1 : 0 },
  gone: row.gone === DELETED ? DELETED : AWAY,
});

/** Whose row it is; null where the row does not say (it was deleted). */
export function ownerOf(table: string, key: string, row: Record<string, unknown> | null): string | null {
  if (table === 'students') return key;
  if (table === 'settings') return '';
  return typeof row?.['studentId'] === 'string' ? row['studentId'] : null;
}

/** The next so many places in the order of changes. @returns the first */
async function takeStamps(
  down: DBCore,
  trans: DBCoreTransaction,
  count: number,
  nowMs: number,
): Promise<number> {
  const meta = down.table('meta');
  const last = ((await meta.get({ trans, key: LAST_STAMP })) as { value: number } | undefined)?.value ?? 0;
  const first = nextOrder(last, nowMs);
  await meta.mutate({ type: 'put', trans, values: [{ key: LAST_STAMP, value: first + count - 1 }] });
  return first;
}
