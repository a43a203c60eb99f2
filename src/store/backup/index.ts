import type { Context } from '../context.ts';
import { addLoose, undoBlocksOf } from '../blocks.ts';
import { touch } from '../derived.ts';
import { OF_A_STUDENT } from '../database.ts';
import { asStoreProblem } from '../problem.ts';
import { checkOwn, TABLE_NAMES } from '../schema/index.ts';
import type { Attempt, Conflict } from '../types.ts';
import type { ExportKind } from './export.ts';
import { unpackBackup } from './file.ts';
import { inWorker } from './inWorker.ts';
import { merge, redigest } from './merge.ts';
import type { MergeReport } from './merge.ts';
import type { BackupState } from './reminder.ts';
import { backupState, noteBackup } from './unbacked.ts';

/** Take it with you: everything to one file and back. */
export function backup(context: Context) {
  const { db, now } = context;
  const replaceAttempt = async (theirs: Attempt): Promise<void> => {
    const ours = await db.attempts.get(theirs.id);
    if (ours) {
      await undoBlocksOf(db, ours.studentId);
      await touch(context, [ours.studentId]);
    }
    await db.attempts.put(theirs);
    await addLoose(db, [theirs]);
    await redigest(context, [theirs.id]);
  };
  return {
    /** The whole record as a file, or a table as CSV. Call `exported` when the user has the backup. */
    export: (kind: ExportKind = 'backup'): Promise<Uint8Array<ArrayBuffer>> =>
      asStoreProblem(() => inWorker({ name: db.name, what: kind, nowMs: Math.floor(now()) })),

    /** The file was handed to the user: the reminder rests. */
    exported: (): Promise<void> =>
      asStoreProblem(() =>
        db.transaction('rw', [db.unbacked, db.meta], () => noteBackup(db, 'all', Math.floor(now()))),
      ),

    /** What the reminder needs, see `backupDue`. */
    state: (): Promise<BackupState> => asStoreProblem(() => backupState(context)),

    /**
     * Merges a backup in, whole or not at all.
     * @throws ImportProblem when the file is refused, StoreProblem when the disk is full; nothing changed.
     */
    restore: (file: Uint8Array<ArrayBuffer>): Promise<MergeReport> =>
      asStoreProblem(async () => {
        const { records, audio, exportedAtMs } = await unpackBackup(file);
        // What came out of a backup is in one: that file. A clock that ran ahead then must not keep the reminder quiet.
        const madeMs = Math.min(exportedAtMs, Math.floor(now()));
        const report = await merge(context, records, audio, ({ held }) => noteBackup(db, held, madeMs));
        context.packSoon();
        return report;
      }),

    conflicts: (): Promise<Conflict[]> => asStoreProblem(() => db.conflicts.toArray()),
    /** Decides a conflict: ours stays, or theirs takes its place. Either way the other is gone after this. */
    decide: (conflict: Conflict, keep: 'ours' | 'theirs'): Promise<void> =>
      asStoreProblem(() =>
        db.transaction('rw', db.tables, async () => {
          if (keep === 'theirs') {
            const theirs = checkOwn(conflict.table, conflict.theirs as never);
            if (conflict.table === 'attempts') await replaceAttempt(theirs as Attempt);
            else await db.table(conflict.table).put(theirs);
            if (conflict.table === 'overrides' && 'attemptId' in theirs)
              await redigest(context, [theirs.attemptId]);
          }
          await db.conflicts.delete(conflict.id);
        }),
      ),

    /** Deletes everything here. Files exported earlier remain where they are. */
    deleteAll: (): Promise<void> =>
      asStoreProblem(() =>
        db.transaction('rw', db.tables, async () => {
          for (const table of [...TABLE_NAMES, ...OF_A_STUDENT, 'meta']) await db.table(table).clear();
        }),
      ),
  };
}
