import type { Cursor, Incoming, Membership } from '../../studio/index.ts';
import { keyOf, merge, redigest } from '../backup/merge.ts';
import type { Row } from '../backup/merge.ts';
import { addUnbacked } from '../backup/unbacked.ts';
import { canonical } from '../canonical.ts';
import { correct, followTakes } from '../correct.ts';
import type { Context } from '../context.ts';
import type { HistoryRow, VersionRow } from '../rows.ts';
import { TABLE_NAMES } from '../schema/index.ts';
import { students } from '../students.ts';
import { getThoseThere } from '../there.ts';
import type { Attempt, Json, Records } from '../types.ts';
import { arrived, inGroups } from './incoming.ts';
import type { Arrived } from './incoming.ts';
import { LAST_STAMP, takeIn } from './log.ts';

export interface Page {
  readonly rows: readonly Incoming[];
  readonly gone: readonly string[];
  readonly cursor: Cursor;
}

/** The later of two versions: by stamp, then by their random ids: the same on every machine. */
const isLater = (a: { stamp: number; item: string }, b: { stamp: number; item: string }): boolean =>
  a.stamp > b.stamp || (a.stamp === b.stamp && a.item > b.item);

/**
 * Takes a page of the studio in by the merge that restores backups. Students who were deleted go last: what another machine
 * had moved away from them stays. The cursor moves on with them.
 */
export async function applyPage(context: Context, member: Membership, page: Page): Promise<void> {
  const { db } = context;
  const rows = page.rows.flatMap((one) => arrived(member, one) ?? []);
  const cursor = { key: 'cursor', value: page.cursor as unknown as Json } as const;
  if (rows.length + page.gone.length === 0) return void (await db.studio.put(cursor));
  for (const group of inGroups(rows)) if (group.length > 0) await applyGroup(context, member, group);
  await db.transaction('rw', db.tables, async () => {
    await removeGone(context, page.gone);
    await db.studio.put(cursor);
  });
}

/** Students who were deleted, with all of theirs. A random id stays, so that no old file brings them back. */
async function removeGone(context: Context, gone: readonly string[]): Promise<void> {
  const { db } = context;
  for (const id of gone) {
    await students(context).remove(id);
    await db.versions.where('studentId').equals(id).delete();
    const at = `students ${id}`;
    const what = { at, table: 'students', key: id, studentId: id, stamp: 0, item: '', before: null };
    await db.versions.put({ ...what, movedFrom: null, pending: 0, gone: 1 });
  }
}

async function applyGroup(context: Context, { role }: Membership, group: readonly Arrived[]): Promise<void> {
  const { db } = context;
  let winners: readonly Arrived[] = [];
  const settled = new Set<string>();
  await merge(context, recordsOf(group), [], ({ fresh }) => addUnbacked(db, fresh), 'studio', {
    async choose() {
      const stands = await versionsHere(context, group);
      const gone = await goneStudents(context, [...group, ...stands.values()]);
      // What went with its student was not deleted by itself: where another machine has moved it away, it lives.
      const here = new Map(
        [...stands].filter(
          ([, one]) => one.gone === 0 || one.table === 'students' || !gone.has(one.studentId),
        ),
      );
      winners = group.filter(
        (one) =>
          !gone.has(one.studentId) && (here.get(one.at) === undefined || isLater(one, here.get(one.at)!)),
      );
      const ours = await rowsHere(context, group);
      await keepHistory(context, group, winners, { versions: here, rows: ours });
      for (const { at, table, key, row, byStudent } of winners) {
        if (row === null) await removeRow(context, table, key);
        // What a student's device says otherwise than it stands here is a conflict: the version here stays. No take or
        // sitting goes with another row, so what stood here before this loop stands here still.
        else if (byStudent && ours.has(at)) settled.add(at);
      }
      takeIn(new Set(winners.filter(({ row }) => row !== null).map(({ at }) => at)));
      return recordsOf(winners);
    },
    replaces: (table, row) => !settled.has(`${table} ${keyOf(row)}`),
    async after() {
      await db.versions.bulkPut(
        winners
          .filter(({ at }) => !settled.has(at))
          .map((one): VersionRow => ({
            ...{ at: one.at, table: one.table, key: one.key, studentId: one.studentId, stamp: one.stamp },
            ...{ item: one.item, pending: 0, before: null, movedFrom: null, gone: one.row === null ? 1 : 0 },
          })),
      );
      takeIn(new Set());
      const known = (await db.meta.get(LAST_STAMP))?.value ?? 0;
      const highest = group.reduce((max, { stamp }) => Math.max(max, stamp), known);
      if (highest > known) await db.meta.put({ key: LAST_STAMP, value: highest });
      if (role === 'teacher') {
        const won = winners.filter(({ at, table, row }) => table === 'attempts' && row && !settled.has(at));
        const inHand = new Map(won.map(({ key, row }) => [key, row as Attempt]));
        await followTakes(context, takesOf(winners), inHand);
      }
    },
  });
}

const recordsOf = (rows: readonly Arrived[]): Records =>
  Object.fromEntries(
    TABLE_NAMES.map((name) => [
      name,
      rows.flatMap(({ table, row }) => (table === name && row !== null ? [row] : [])),
    ]),
  ) as unknown as Records;

/** The attempts among rows, and those that rows hang on. */
const takesOf = (rows: readonly Arrived[]): string[] =>
  rows.flatMap(({ table, key, row }) => {
    if (row === null) return [];
    return table === 'attempts' ? [key] : 'attemptId' in row ? [row.attemptId] : [];
  });

async function versionsHere({ db }: Context, group: readonly Arrived[]): Promise<Map<string, VersionRow>> {
  const rows = await getThoseThere(
    db.versions,
    group.map(({ at }) => at),
  );
  return new Map(rows.flatMap((row) => (row ? [[row.at, row] as const] : [])));
}

/** The rows themselves as they are here: asked for together, as one by one each waits for the disk's thread. */
async function rowsHere({ db }: Context, group: readonly Arrived[]): Promise<Map<string, Row>> {
  const found = new Map<string, Row>();
  for (const table of new Set(group.map((one) => one.table))) {
    const some = group.filter((one) => one.table === table);
    const rows = await getThoseThere(
      db.table<Row, string>(table),
      some.map(({ key }) => key),
    );
    for (const [i, { at }] of some.entries()) if (rows[i]) found.set(at, rows[i]);
  }
  return found;
}

async function goneStudents(
  { db }: Context,
  of: readonly { readonly studentId: string }[],
): Promise<Set<string>> {
  const ids = [...new Set(of.map(({ studentId }) => studentId))];
  const rows = await db.versions.bulkGet(ids.map((id) => `students ${id}`));
  return new Set(rows.flatMap((row) => (row?.gone === 1 ? [row.key] : [])));
}

/** Whatever loses against a later version is kept: ours that is overwritten, or theirs that came too late. */
async function keepHistory(
  { db }: Context,
  group: readonly Arrived[],
  winners: readonly Arrived[],
  here: { readonly versions: ReadonlyMap<string, VersionRow>; readonly rows: ReadonlyMap<string, Row> },
): Promise<void> {
  const won = new Set(winners);
  const lost: HistoryRow[] = [];
  for (const one of group) {
    const ours = here.rows.get(one.at) ?? null;
    const version = here.versions.get(one.at);
    if (ours === null || one.byStudent || version?.item === one.item) continue;
    if (one.row !== null && canonical(ours) === canonical(one.row)) continue;
    const loser = won.has(one)
      ? { item: version?.item ?? one.item, stamp: version?.stamp ?? 0, row: ours }
      : { item: one.item, stamp: one.stamp, row: one.row };
    if (loser.row === null) continue;
    const { table, key, studentId } = one;
    lost.push({ ...{ table, key, studentId }, ...loser, row: loser.row as unknown as Json });
  }
  await db.history.bulkPut(lost);
}

/** Deletes a row with all that hangs on it. Only inside a transaction. */
async function removeRow(context: Context, table: Arrived['table'], key: string): Promise<void> {
  const { db } = context;
  const row = await db.table<Row, string>(table).get(key);
  if (row === undefined) return;
  if (table === 'attempts') return correct(context).remove(key);
  await db.table(table).delete(key);
  if (table === 'overrides' && 'attemptId' in row) await redigest(context, [row.attemptId]);
}
