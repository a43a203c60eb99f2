import { gzipped } from './gzip.ts';
import type { Database } from './database.ts';
import { revisionOf } from './derived.ts';
import { randomId } from './ids.ts';
import type { BlockRow } from './rows.ts';
import { SCHEMA_VERSION } from './schema/migrations.ts';
import type { Attempt } from './types.ts';

/** From this many loose attempts of a student on they are packed: a fortnight of practice. */
const LEAST = 20;
/** Attempts a block: 250 are 1 MB of text, 0.1 MB packed. */
const MOST = 250;

/** These attempts were written. Only inside a transaction that can write `loose`. */
export const addLoose = async (db: Database, attempts: readonly Attempt[]): Promise<void> =>
  void (await db.loose.bulkPut(attempts.map(({ id: attemptId, studentId }) => ({ attemptId, studentId }))));

/** Undoes blocks. Only inside a transaction that can write `blocks` and `loose`. */
async function undo(db: Database, blocks: readonly BlockRow[]): Promise<void> {
  await db.blocks.bulkDelete(blocks.map(({ id }) => id));
  await db.loose.bulkPut(
    blocks.flatMap(({ studentId, attemptIds }) => attemptIds.map((attemptId) => ({ attemptId, studentId }))),
  );
}

/** An attempt of this student was replaced by another of the same id: no block of theirs may keep the old one. */
export const undoBlocksOf = async (db: Database, studentId: string): Promise<void> =>
  undo(db, await db.blocks.where({ studentId }).toArray());

/**
 * Undoes blocks from before a change of the schema, to be packed anew from the rows.
 * @returns whether anybody has enough that is loose
 */
export async function looseEnough(db: Database): Promise<boolean> {
  const stale = await db.blocks.where('schema').notEqual(SCHEMA_VERSION).toArray();
  if (stale.length > 0) await db.transaction('rw', [db.blocks, db.loose], () => undo(db, stale));
  const counts = new Map<string, number>();
  for (const { studentId } of await db.loose.toArray())
    counts.set(studentId, (counts.get(studentId) ?? 0) + 1);
  return Math.max(0, ...counts.values()) >= LEAST;
}

/** Packs what is loose, of every student who has {@link LEAST} such attempts or more. It is made to run in a worker. */
export async function packLoose(db: Database): Promise<void> {
  const byStudent = new Map<string, string[]>();
  for (const { attemptId, studentId } of await db.loose.toArray()) {
    const ids = byStudent.get(studentId);
    if (ids) ids.push(attemptId);
    else byStudent.set(studentId, [attemptId]);
  }
  for (const [studentId, ids] of byStudent)
    for (let at = 0; ids.length - at >= LEAST; at += MOST)
      await packSome(db, studentId, ids.slice(at, at + MOST));
}

/** One block. Packing would end a transaction: so what changed meanwhile is looked for, and then nothing is written. */
async function packSome(db: Database, studentId: string, attemptIds: readonly string[]): Promise<void> {
  const ids = [...attemptIds];
  const [revision, attempts] = await db.transaction('r', [db.attempts, db.derived], () =>
    Promise.all([revisionOf(db, studentId), db.attempts.bulkGet(ids)]),
  );
  if (attempts.includes(undefined)) return;
  const gzip = await gzipped(new TextEncoder().encode(JSON.stringify(attempts)));
  await db.transaction('rw', [db.blocks, db.loose, db.derived], async () => {
    if ((await revisionOf(db, studentId)) !== revision) return;
    if ((await db.loose.bulkGet(ids)).includes(undefined)) return;
    await db.blocks.add({ id: randomId(), studentId, schema: SCHEMA_VERSION, attemptIds: ids, gzip });
    await db.loose.bulkDelete(ids);
  });
}
