import { BORN } from '../context.ts';
import type { Context } from '../context.ts';
import { asStoreProblem } from '../problem.ts';
import { checkOwn } from '../schema/index.ts';
import type { Conflict, Json, MergedTable, Records } from '../types.ts';
import type { ExportKind } from './export.ts';
import { inWorker, opened } from './inWorker.ts';
import { merge, replace } from './merge.ts';
import type { MergeReport } from './merge.ts';
import type { BackupState } from './reminder.ts';
import { backupState, noteBackup } from './unbacked.ts';

type Row = Records[MergedTable][number];

const keptOwner = (theirs: Row, ours: Row | undefined): Row => ({
  ...theirs,
  ...(ours && 'studentId' in ours ? { studentId: ours.studentId } : {}),
  ...(ours && 'attemptId' in ours ? { attemptId: ours.attemptId } : {}),
});

/** Take it with you: everything to one file and back. */
export function backup(context: Context) {
  const { db, now } = context;
  /** What was in no backup when the last file was begun: the file holds it. */
  let inFile: readonly string[] = [];
  return {
    /** The whole record as a file, or a table as CSV. Call `exported` when the user has the backup. */
    export: (kind: ExportKind = 'backup'): Promise<Uint8Array<ArrayBuffer>> =>
      asStoreProblem(async () => {
        if (kind === 'backup') inFile = await db.unbacked.toCollection().primaryKeys();
        return inWorker('export', { name: db.name, kind, nowMs: Math.floor(now()) });
      }),

    /** The file was handed to the user: the reminder rests. */
    exported: (): Promise<void> =>
      asStoreProblem(() =>
        db.transaction('rw', [db.unbacked, db.meta], () => noteBackup(db, inFile, Math.floor(now()))),
      ),

    /** What the reminder needs, see `backupDue`. */
    state: (): Promise<BackupState> => asStoreProblem(() => backupState(context)),

    /**
     * Merges a backup in, whole or not at all.
     * @throws ImportProblem when the file is refused, StoreProblem when the disk is full; nothing changed.
     */
    restore: (file: Uint8Array<ArrayBuffer>): Promise<MergeReport> =>
      asStoreProblem(async () => {
        const { records, audio, exportedAtMs } = await opened('backup', file);
        // What came out of a backup is in one: that file. A clock that ran ahead then must not keep the reminder quiet.
        const madeMs = Math.min(exportedAtMs, Math.floor(now()));
        const report = await merge(context, records, audio, ({ held }) => noteBackup(db, held, madeMs));
        context.packSoon();
        return report;
      }),

    conflicts: (): Promise<Conflict[]> => asStoreProblem(() => db.conflicts.toArray()),
    /** The same, each with the record here that it differs from; null where that has been deleted. */
    bothSides: (): Promise<{ readonly conflict: Conflict; readonly ours: Json | null }[]> =>
      asStoreProblem(() =>
        db.transaction('r', db.tables, async () => {
          const all = await db.conflicts.toArray();
          return Promise.all(
            all.map(async (conflict) => ({
              conflict,
              ours: (await db.table<Json, string>(conflict.table).get(conflict.key)) ?? null,
            })),
          );
        }),
      ),
    /**
     * Decides a conflict: ours stays, or theirs takes its place. Either way the other is gone after this. Whose a
     * record is, and of which attempt, stays as it is here: no file moves it to another student.
     */
    decide: (conflict: Conflict, keep: 'ours' | 'theirs'): Promise<void> =>
      asStoreProblem(() =>
        db.transaction('rw', db.tables, async () => {
          if (keep === 'theirs') {
            const ours = await db.table<Row, string>(conflict.table).get(conflict.key);
            const theirs = checkOwn(
              conflict.table,
              keptOwner(conflict.theirs as unknown as Row, ours) as never,
            );
            await replace(context, conflict.table, theirs, ours);
          }
          await db.conflicts.delete(conflict.id);
        }),
      ),

    /** Deletes everything here. Files exported earlier remain where they are. */
    deleteAll: (): Promise<void> =>
      asStoreProblem(() =>
        db.transaction('rw', db.tables, async () => {
          for (const { name } of db.tables) if (name !== 'meta') await db.table(name).clear();
          // When it was born stays, or the next start would take an emptied record for a removed one.
          await db.meta.where('key').notEqual(BORN).delete();
        }),
      ),
  };
}
