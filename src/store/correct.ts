import type { IndexableType, Table } from 'dexie';
import { addUnbacked } from './backup/unbacked.ts';
import { redigest } from './backup/merge.ts';
import { addLoose, undoBlocksOf } from './blocks.ts';
import type { Context } from './context.ts';
import { touch } from './derived.ts';
import { asStoreProblem, StoreProblem } from './problem.ts';
import { getThoseThere } from './there.ts';
import type { Attempt } from './types.ts';

/** What hangs on an attempt and names its student: it goes where the attempt goes. */
const WITH_IT = ['overrides', 'blindMarks', 'audio', 'audioSizes'] as const;

/**
 * Lets what hangs on attempts belong to the student to whom they belong: another machine may have moved one while this one
 * wrote a remark on it. Only inside a transaction.
 * @param inHand those of the attempts that need not be read
 */
export async function followTakes(
  { db }: Context,
  attemptIds: readonly string[],
  inHand: ReadonlyMap<string, Attempt>,
): Promise<void> {
  const ids = [...new Set(attemptIds)];
  const read = await db.attempts.bulkGet(ids.filter((id) => !inHand.has(id)));
  const takes = [...ids.flatMap((id) => inHand.get(id) ?? []), ...read];
  const owners = new Map(takes.flatMap((take) => (take ? [[take.id, take.studentId] as const] : [])));
  const strays = ({ attemptId, studentId }: Hanging): boolean => owners.get(attemptId) !== studentId;
  const follow = (table: (typeof WITH_IT)[number], of: readonly string[]): Promise<number> =>
    (db[table] as unknown as Table<Hanging, IndexableType>)
      .where('attemptId')
      .anyOf([...of])
      .filter(strays)
      .modify((row) => void (row.studentId = owners.get(row.attemptId)!));
  // Sound itself is looked at only where its size says that it strays: it is large.
  const sizes = await getThoseThere(db.audioSizes, [...owners.keys()]);
  const sounds = sizes.flatMap((size) => (size && strays(size) ? [size.attemptId] : []));
  for (const table of WITH_IT)
    await follow(table, table === 'audio' || table === 'audioSizes' ? sounds : [...owners.keys()]);
}

interface Hanging {
  readonly attemptId: string;
  studentId: string;
}

/** Attempts that went to the wrong record, or to one at all. */
export function correct(context: Context) {
  const { db } = context;
  const rowsOf = (table: (typeof WITH_IT)[number], attemptId: string) =>
    (db[table] as unknown as Table<{ studentId: string }, IndexableType>).where({ attemptId });
  const known = async (attemptId: string): Promise<Attempt> => {
    const attempt = await db.attempts.get(attemptId);
    if (!attempt) throw new StoreProblem('missing', `no attempt ${attemptId}`);
    return attempt;
  };
  return {
    /**
     * Moves an attempt to another student, with its overrides, blind marks and sound.
     * @throws StoreProblem 'missing' where either is not here (any more); nothing changed.
     */
    move: (attemptId: string, studentId: string): Promise<void> =>
      asStoreProblem(() =>
        db.transaction('rw', db.tables, async () => {
          const attempt = await known(attemptId);
          if (!(await db.students.get(studentId)))
            throw new StoreProblem('missing', `no student ${studentId}`);
          if (attempt.studentId === studentId) return;
          await undoBlocksOf(db, attempt.studentId);
          const moved = { ...attempt, studentId };
          await db.attempts.put(moved);
          for (const table of WITH_IT) await rowsOf(table, attemptId).modify({ studentId });
          await addLoose(db, [moved]);
          // No backup holds it where it is now.
          await addUnbacked(db, [moved]);
          await redigest(context, [attemptId]);
          await touch(context, [attempt.studentId]);
        }),
      ),

    /** Deletes an attempt and all that hangs on it here. Files exported earlier remain where they are. */
    remove: (attemptId: string): Promise<void> =>
      asStoreProblem(() =>
        db.transaction('rw', db.tables, async () => {
          const { studentId } = await known(attemptId);
          await undoBlocksOf(db, studentId);
          for (const table of WITH_IT) await rowsOf(table, attemptId).delete();
          for (const table of ['attempts', 'digests', 'loose', 'unbacked'] as const)
            await db.table(table).delete(attemptId);
          await db.conflicts.filter(({ key }) => key === attemptId).delete();
          await touch(context, [studentId]);
        }),
      ),
  };
}
