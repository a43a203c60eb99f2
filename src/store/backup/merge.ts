import { canonical, contentId } from '../canonical.ts';
import { noteOrders, putDigests } from '../context.ts';
import type { Context } from '../context.ts';
import { addLoose, undoBlocksOf } from '../blocks.ts';
import { addUnbacked } from './unbacked.ts';
import { touch } from '../derived.ts';
import { byAttempt } from '../effective.ts';
import { TABLE_NAMES } from '../schema/index.ts';
import { STANDS } from '../sync/rules.ts';
import { getThoseThere } from '../there.ts';
import type { Attempt, Conflict, Json, MergedTable, Override, Records, SavedAudio } from '../types.ts';

/** What an import did; nothing that was here has been changed. */
export interface MergeReport {
  readonly added: Readonly<Record<MergedTable, number>>;
  /** Records that were here already, to the letter. */
  readonly same: number;
  /** Records that differ from the one here: both kept, to be decided. */
  readonly conflicts: number;
  /** Records that were deleted here, in a studio: they stay deleted. */
  readonly deleted: number;
  /** Settings that differ: this machine's stay. */
  readonly settingsKept: number;
  readonly audioAdded: number;
}

/** Attempts of a merge, for the account of what is in a backup. */
export interface MergedAttempts {
  /** Those that were not here. */
  readonly fresh: readonly Attempt[];
  /** Ids of those that are now here as they are in the file. */
  readonly held: readonly string[];
}

/** How the rows of a studio come in: a later version takes the place of an earlier one. */
export interface ByVersion {
  /** Called in the transaction, before anything is read. @returns the rows that win, to be merged */
  readonly choose: () => Promise<Records>;
  /** Whether the row takes the place of a different one here; otherwise that is a conflict, as always. */
  readonly replaces: (table: MergedTable, row: Row) => boolean;
  /** Called in the transaction at its end. */
  readonly after: () => Promise<void>;
}

export type Row = Records[MergedTable][number];
export const keyOf = (row: Row): string => ('id' in row ? row.id : row.key);

/**
 * Merges records in, in one transaction: all or, on any error, nothing. By id: what is new is added, what
 * is the same is passed over, what differs goes beside ours as a conflict. Doing it twice, or two files in
 * either order, ends in the same records.
 * @param settle called in the transaction once the records are in
 * @param origin what is said of conflicts
 */
export async function merge(
  context: Context,
  records: Records,
  audio: readonly SavedAudio[],
  settle: (attempts: MergedAttempts) => Promise<void>,
  origin: NonNullable<Conflict['origin']> = 'file',
  versions: ByVersion | null = null,
): Promise<MergeReport> {
  const { db } = context;
  // Hashing waits for the crypto thread, which would end an IndexedDB transaction: so it is done before.
  const conflictIds = new Map<string, string>();
  for (const table of TABLE_NAMES) {
    if (table === 'settings') continue;
    const here = await getThoseThere(db.table<Row, string>(table), records[table].map(keyOf));
    for (const [i, row] of records[table].entries()) {
      const ours = here[i];
      if (ours && canonical(ours) !== canonical(row))
        conflictIds.set(`${table} ${keyOf(row)}`, await contentId([table, row]));
    }
  }
  return db.transaction('rw', db.tables, async () => {
    const merged = versions ? await versions.choose() : await withoutDeleted(db, records);
    const added: Record<string, number> = {};
    let same = 0;
    let settingsKept = 0;
    const conflicts: Conflict[] = [];
    const touched = new Set<string>();
    const freshTakes = new Map<string, Attempt>();
    for (const table of TABLE_NAMES) {
      const rows: readonly Row[] = merged[table];
      const here = await getThoseThere(db.table<Row, string>(table), rows.map(keyOf));
      const fresh: Row[] = [];
      for (const [i, row] of rows.entries()) {
        const ours = here[i];
        if (!ours) fresh.push(row);
        else if (canonical(ours) === canonical(row)) same += 1;
        else if (versions?.replaces(table, row)) await replace(context, table, row, ours);
        else if (table === 'settings') settingsKept += 1;
        else conflicts.push(conflict(table, row, ours, origin, conflictIds.get(`${table} ${keyOf(row)}`)));
      }
      await db.table(table).bulkAdd(fresh);
      if (table === 'attempts') {
        await addLoose(db, fresh as Attempt[]);
        const differ = new Set(conflicts.map(({ key }) => key));
        const held = merged.attempts.flatMap(({ id }) => (differ.has(id) ? [] : [id]));
        await settle({ fresh: fresh as Attempt[], held });
      }
      added[table] = fresh.length;
      for (const row of fresh)
        if (table === 'attempts') {
          touched.add((row as Attempt).id);
          freshTakes.set((row as Attempt).id, row as Attempt);
        } else if (table === 'overrides') touched.add((row as Override).attemptId);
      if (table === 'homework')
        for (const id of await db.attempts.where('homeworkId').anyOf(fresh.map(keyOf)).primaryKeys())
          touched.add(id);
    }
    await db.conflicts.bulkPut(conflicts);
    await redigest(context, [...touched], freshTakes);
    await noteOrders(
      context,
      [...merged.attempts, ...merged.overrides].map(({ order }) => order),
    );
    const audioAdded = await addAudio(context, audio);
    await versions?.after();
    return {
      added: added as MergeReport['added'],
      same,
      deleted: count(records) - count(merged),
      conflicts: conflicts.length,
      settingsKept,
      audioAdded,
    };
  });
}

const count = (records: Records): number =>
  TABLE_NAMES.reduce((sum, table) => sum + records[table].length, 0);

/** What was deleted in a studio stays so, whichever old file is restored. Without a studio nothing is known of it. */
async function withoutDeleted(db: Context['db'], records: Records): Promise<Records> {
  const gone = new Set(
    (await db.versions.filter((one) => one.gone !== STANDS).toArray()).map(({ at }) => at),
  );
  if (gone.size === 0) return records;
  const stays = (table: MergedTable, row: Row): boolean =>
    !gone.has(`${table} ${keyOf(row)}`) &&
    !('studentId' in row && gone.has(`students ${row.studentId}`)) &&
    !('attemptId' in row && gone.has(`attempts ${row.attemptId}`));
  return Object.fromEntries(
    TABLE_NAMES.map((table) => [
      table,
      (records[table] as readonly Row[]).filter((row) => stays(table, row)),
    ]),
  ) as unknown as Records;
}

/** Puts a record in the place of another of its id, with all that hangs on it. Only inside a transaction. */
export async function replace(
  context: Context,
  table: MergedTable,
  theirs: Row,
  ours: Row | undefined,
): Promise<void> {
  const { db } = context;
  if (table !== 'attempts') await db.table(table).put(theirs);
  else {
    const attempt = theirs as Attempt;
    for (const owner of new Set([
      attempt.studentId,
      ...(ours && 'studentId' in ours ? [ours.studentId] : []),
    ]))
      await undoBlocksOf(db, owner);
    await db.attempts.put(attempt);
    await addLoose(db, [attempt]);
    await addUnbacked(db, [attempt]);
    await redigest(context, [attempt.id]);
  }
  if (table === 'overrides') await redigest(context, [(theirs as Override).attemptId]);
}

function conflict(
  table: MergedTable,
  row: Row,
  ours: Row,
  origin: Conflict['origin'],
  id: string | undefined,
): Conflict {
  // It changed in another tab between the two looks: give up, nothing is written, the user tries again.
  if (id === undefined) throw new Error(`${table} changed while importing`);
  // It goes with the student of the record here, whoever the other names.
  const studentId = 'studentId' in ours ? ours.studentId : table === 'students' ? keyOf(row) : null;
  return {
    ...{ id, table, key: keyOf(row), studentId, theirs: row as unknown as Json },
    ...(origin ? { origin } : {}),
  };
}

/**
 * Makes the digests of these attempts anew. Only inside a transaction.
 * @param inHand those of them that need not be read
 */
export async function redigest(
  context: Context,
  attemptIds: readonly string[],
  inHand: ReadonlyMap<string, Attempt> = new Map(),
): Promise<void> {
  const { db } = context;
  const read = await db.attempts.bulkGet(attemptIds.filter((id) => !inHand.has(id)));
  const attempts = [...attemptIds.flatMap((id) => inHand.get(id) ?? []), ...read];
  const overrides = byAttempt(
    await db.overrides
      .where('attemptId')
      .anyOf([...attemptIds])
      .toArray(),
  );
  await putDigests(
    context,
    attempts.flatMap((attempt) => (attempt ? [{ attempt, overrides: overrides.get(attempt.id) ?? [] }] : [])),
  );
  await touch(
    context,
    attempts.flatMap((attempt) => (attempt ? [attempt.studentId] : [])),
  );
}

/** Sound is its attempt's, and stands where that stands here. */
async function addAudio({ db }: Context, audio: readonly SavedAudio[]): Promise<number> {
  const here = new Set(
    await db.audioSizes
      .where('attemptId')
      .anyOf(audio.map((a) => a.attemptId))
      .primaryKeys(),
  );
  const owners = await db.attempts.bulkGet(audio.map(({ attemptId }) => attemptId));
  const fresh = audio.flatMap((one, i) => {
    const owner = owners[i];
    if (!owner || here.has(one.attemptId)) return [];
    return [{ ...one, studentId: owner.studentId, order: owner.order }];
  });
  await db.audio.bulkAdd(fresh);
  await db.audioSizes.bulkAdd(fresh.map(({ mime: _, bytes, ...rest }) => ({ ...rest, bytes: bytes.length })));
  return fresh.length;
}
