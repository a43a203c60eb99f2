import type { Row } from '../backup/merge.ts';
import type { Context } from '../context.ts';
import type { VersionRow } from '../rows.ts';
import { getThoseThere } from '../there.ts';
import type { Arrived } from './incoming.ts';
import { DELETED, HANGING, STANDS, wins } from './rules.ts';
import type { TakeHere } from './rules.ts';

/** What is known here of the rows of a group: their versions. */
export async function versionsHere(
  { db }: Context,
  group: readonly Arrived[],
): Promise<Map<string, VersionRow>> {
  const rows = await getThoseThere(
    db.versions,
    group.map(({ at }) => at),
  );
  return new Map(rows.flatMap((row) => (row ? [[row.at, row] as const] : [])));
}

/** The rows themselves as they are here: asked for together, as one by one each waits for the disk's thread. */
export async function rowsHere({ db }: Context, group: readonly Arrived[]): Promise<Map<string, Row>> {
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

/** Which of these students have been deleted. */
export async function goneStudents(
  { db }: Context,
  of: readonly { readonly studentId: string }[],
): Promise<Set<string>> {
  const ids = [...new Set(of.map(({ studentId }) => studentId))];
  const rows = await db.versions.bulkGet(ids.map((id) => `students ${id}`));
  return new Set(rows.flatMap((row) => (row?.gone === DELETED ? [row.key] : [])));
}

/** Of each row of a group, how the attempt on which it hangs will be known here once the group is in. */
export async function takesHere(
  { db }: Context,
  group: readonly Arrived[],
  here: ReadonlyMap<string, VersionRow>,
  gone: ReadonlySet<string>,
): Promise<{ readonly of: (one: Arrived) => TakeHere }> {
  const hanging = group.filter(({ table }) => HANGING.has(table));
  if (hanging.length === 0) return { of: () => 'unknown' };
  // Word that one is away or deleted does not say on what it hung: what is here does.
  const takeIds = new Map<string, string>();
  for (const one of hanging) {
    const row = one.row ?? (await db.table<Row, string>(one.table).get(one.key));
    if (row && 'attemptId' in row) takeIds.set(one.at, row.attemptId);
  }
  const ids = [...new Set(takeIds.values())];
  const found = await getThoseThere(
    db.versions,
    ids.map((id) => `attempts ${id}`),
  );
  const takes = new Map<string, TakeHere>();
  for (const [i, id] of ids.entries()) {
    const take = found[i];
    takes.set(
      id,
      take === undefined
        ? 'unknown'
        : take.gone === STANDS
          ? { studentId: take.studentId }
          : take.gone === DELETED
            ? 'deleted'
            : 'away',
    );
  }
  for (const one of group)
    if (one.table === 'attempts' && !gone.has(one.studentId) && wins(one, here.get(one.at), null))
      takes.set(one.key, one.row !== null ? { studentId: one.studentId } : one.moved ? 'away' : 'deleted');
  return { of: ({ at }) => takes.get(takeIds.get(at) ?? '') ?? 'unknown' };
}
