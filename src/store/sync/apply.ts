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
import type { Attempt, Json, Records } from '../types.ts';
import { goneStudents, rowsHere, takesHere, versionsHere } from './here.ts';
import { arrived, inGroups } from './incoming.ts';
import type { Arrived } from './incoming.ts';
import { forgotten, goWith, LAST_STAMP, takeIn } from './log.ts';
import { answerTo, AWAY, DELETED, deletedWithTake, HANGING, versionOf, wins } from './rules.ts';

export interface Page {
  readonly rows: readonly Incoming[];
  readonly gone: readonly string[];
  readonly cursor: Cursor;
}

/**
 * Takes a page of the studio in by the merge that restores backups. Students who were deleted go last: what another machine
 * had moved away from them stays. The cursor moves on with them.
 */
export async function applyPage(context: Context, member: Membership, page: Page): Promise<void> {
  const { db } = context;
  const rows = page.rows.flatMap((one) => arrived(member, one) ?? []);
  const cursor = { key: 'cursor', value: page.cursor as unknown as Json } as const;
  if (rows.length + page.gone.length === 0) return void (await db.studio.put(cursor));
  // What hung on an attempt that is here again was passed over while it was away: all is asked for once more.
  const fromTheStart = { ...cursor, value: { ...page.cursor, after: 0 } };
  let backAgain = false;
  for (const group of inGroups(rows))
    if (group.length > 0)
      await applyGroup(context, member, group, async () => {
        backAgain = true;
        await db.studio.put(fromTheStart);
      });
  await db.transaction('rw', db.tables, async () => {
    await removeGone(context, page.gone);
    if (!backAgain) await db.studio.put(cursor);
  });
}

/** Students who were deleted, with all of theirs. A random id stays, so that no old file brings them back. */
async function removeGone(context: Context, gone: readonly string[]): Promise<void> {
  const { db } = context;
  for (const id of gone) {
    await students(context).remove(id);
    await db.versions
      .where('studentId')
      .equals(id)
      .modify((row, ref) => void (ref.value = forgotten(row)));
    const at = `students ${id}`;
    const what = { at, table: 'students', key: id, studentId: id, stamp: 0, item: '', before: null };
    await db.versions.put({ ...what, sent: true, awayFrom: [], pending: 0, gone: DELETED });
  }
}

/** @param onBackAgain called in the transaction, where an attempt stands here again that was away */
async function applyGroup(
  context: Context,
  { role }: Membership,
  group: readonly Arrived[],
  onBackAgain: () => Promise<void>,
): Promise<void> {
  const { db } = context;
  let winners: readonly Arrived[] = [];
  let versions: readonly VersionRow[] = [];
  const settled = new Set<string>();
  await merge(context, recordsOf(group), [], ({ fresh }) => addUnbacked(db, fresh), 'studio', {
    async choose() {
      const here = await versionsHere(context, group);
      const gone = await goneStudents(context, group);
      const takes = await takesHere(context, group, here, gone);
      const living = group.filter(({ studentId }) => !gone.has(studentId));
      const ofDeleted = new Set(living.filter((one) => takes.of(one) === 'deleted'));
      winners = living.filter((one) => {
        const take = takes.of(one);
        if (take === 'deleted' || (take === 'away' && one.row !== null)) return false;
        return wins(one, here.get(one.at), take === 'away' || take === 'unknown' ? null : take.studentId);
      });
      const ours = await rowsHere(context, group);
      await keepHistory(context, group, winners, { versions: here, rows: ours });
      await removeRows(
        context,
        winners.filter(({ row }) => row === null),
      );
      // What a student's device says otherwise than it stands here is a conflict: the version here stays. No take or
      // sitting goes with another row, so what stood here before these were removed stands here still.
      for (const { at, row, byStudent } of winners)
        if (row !== null && byStudent && ours.has(at)) settled.add(at);
      const won = new Set(winners);
      versions = group.flatMap((one) => {
        const before = here.get(one.at);
        if (won.has(one))
          return settled.has(one.at) ? [] : [versionOf(one, role === 'teacher' ? before : undefined)];
        if (role !== 'teacher' || gone.has(one.studentId)) return [];
        if (ofDeleted.has(one)) return [deletedWithTake(one)];
        return before ? (answerTo(one, before, takes.of(one)) ?? []) : [];
      });
      if (
        winners.some(
          ({ at, table, row }) => table === 'attempts' && row !== null && here.get(at)?.gone === AWAY,
        )
      )
        await onBackAgain();
      takeIn(new Set(winners.filter(({ row }) => row !== null).map(({ at }) => at)));
      return recordsOf(winners);
    },
    replaces: (table, row) => !settled.has(`${table} ${keyOf(row)}`),
    async after() {
      await db.versions.bulkPut(versions);
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

/**
 * Deletes rows with all that hangs on them; what hangs on an attempt that has only gone elsewhere goes with it, and is not
 * deleted by itself. Only inside a transaction.
 */
async function removeRows(context: Context, rows: readonly Arrived[]): Promise<void> {
  const { db } = context;
  const away = rows.flatMap(({ table, key, moved }) => (table === 'attempts' && moved ? [key] : []));
  const with_ = new Set(rows.map(({ at }) => at));
  for (const table of HANGING)
    for (const key of await db.table<Row, string>(table).where('attemptId').anyOf(away).primaryKeys())
      with_.add(`${table} ${key}`);
  if (rows.length > 0) goWith(null, with_);
  for (const { table, key } of rows) {
    if (table === 'attempts') {
      if (await db.attempts.get(key)) await correct(context).remove(key);
      else for (const one of HANGING) await db.table(one).where('attemptId').equals(key).delete();
      continue;
    }
    const row = await db.table<Row, string>(table).get(key);
    if (row === undefined) continue;
    await db.table(table).delete(key);
    if (table === 'overrides' && 'attemptId' in row) await redigest(context, [row.attemptId]);
  }
}
