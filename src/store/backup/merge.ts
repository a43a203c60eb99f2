import { canonical, contentId } from '../canonical.ts';
import { noteOrders, putDigest } from '../context.ts';
import type { Context } from '../context.ts';
import { addLoose } from '../blocks.ts';
import { touch } from '../derived.ts';
import { byAttempt } from '../effective.ts';
import { TABLE_NAMES } from '../schema/index.ts';
import type { Attempt, Conflict, Json, MergedTable, Override, Records, SavedAudio } from '../types.ts';

/** What an import did; nothing that was here has been changed. */
export interface MergeReport {
  readonly added: Readonly<Record<MergedTable, number>>;
  /** Records that were here already, to the letter. */
  readonly same: number;
  /** Records that differ from the one here: both kept, to be decided. */
  readonly conflicts: number;
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

type Row = Records[MergedTable][number];
const keyOf = (row: Row): string => ('id' in row ? row.id : row.key);

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
): Promise<MergeReport> {
  const { db } = context;
  // Hashing waits for the crypto thread, which would end an IndexedDB transaction: so it is done before.
  const conflictIds = new Map<string, string>();
  for (const table of TABLE_NAMES) {
    if (table === 'settings') continue;
    const here = await db.table<Row, string>(table).bulkGet(records[table].map(keyOf));
    for (const [i, row] of records[table].entries()) {
      const ours = here[i];
      if (ours && canonical(ours) !== canonical(row))
        conflictIds.set(`${table} ${keyOf(row)}`, await contentId([table, row]));
    }
  }
  return db.transaction('rw', db.tables, async () => {
    const added: Record<string, number> = {};
    let same = 0;
    let settingsKept = 0;
    const conflicts: Conflict[] = [];
    const touched = new Set<string>();
    for (const table of TABLE_NAMES) {
      const rows: readonly Row[] = records[table];
      const here = await db.table<Row, string>(table).bulkGet(rows.map(keyOf));
      const fresh: Row[] = [];
      for (const [i, row] of rows.entries()) {
        const ours = here[i];
        if (!ours) fresh.push(row);
        else if (canonical(ours) === canonical(row)) same += 1;
        else if (table === 'settings') settingsKept += 1;
        else conflicts.push(conflict(table, row, ours, origin, conflictIds.get(`${table} ${keyOf(row)}`)));
      }
      await db.table(table).bulkAdd(fresh);
      if (table === 'attempts') {
        await addLoose(db, fresh as Attempt[]);
        const differ = new Set(conflicts.map(({ key }) => key));
        const held = records.attempts.flatMap(({ id }) => (differ.has(id) ? [] : [id]));
        await settle({ fresh: fresh as Attempt[], held });
      }
      added[table] = fresh.length;
      for (const row of fresh)
        if (table === 'attempts') touched.add((row as Attempt).id);
        else if (table === 'overrides') touched.add((row as Override).attemptId);
      if (table === 'homework')
        for (const id of await db.attempts.where('homeworkId').anyOf(fresh.map(keyOf)).primaryKeys())
          touched.add(id);
    }
    await db.conflicts.bulkPut(conflicts);
    await redigest(context, [...touched]);
    await noteOrders(
      context,
      [...records.attempts, ...records.overrides].map(({ order }) => order),
    );
    const audioAdded = await addAudio(context, audio);
    return {
      added: added as MergeReport['added'],
      same,
      conflicts: conflicts.length,
      settingsKept,
      audioAdded,
    };
  });
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

/** Makes the digests of these attempts anew. Only inside a transaction. */
export async function redigest(context: Context, attemptIds: readonly string[]): Promise<void> {
  const { db } = context;
  const attempts = await db.attempts.bulkGet([...attemptIds]);
  const overrides = byAttempt(
    await db.overrides
      .where('attemptId')
      .anyOf([...attemptIds])
      .toArray(),
  );
  for (const attempt of attempts)
    if (attempt) await putDigest(context, attempt, overrides.get(attempt.id) ?? []);
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
