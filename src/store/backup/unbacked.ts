import type { Database } from '../database.ts';
import type { Attempt } from '../types.ts';
import type { BackupState } from './reminder.ts';

/**
 * Which attempts are in no backup. Each is told by itself: one that came from another machine may be older than the
 * last backup of this one, and one that came out of a backup is in it.
 */
const LAST_EXPORT = 'lastExportMs';

/** These attempts are new here and in no file. Only inside a transaction that can write `unbacked`. */
export const addUnbacked = async (db: Database, attempts: readonly Attempt[]): Promise<void> =>
  void (await db.unbacked.bulkPut(
    attempts.map(({ id: attemptId, studentId, atMs }) => ({ attemptId, studentId, atMs })),
  ));

/** A backup made at `madeMs` holds these attempts. Only inside a transaction on both tables. */
export async function noteBackup(
  { unbacked, meta }: Pick<Database, 'unbacked' | 'meta'>,
  attemptIds: readonly string[],
  madeMs: number,
): Promise<void> {
  await unbacked.bulkDelete([...attemptIds]);
  const last = (await meta.get(LAST_EXPORT))?.value ?? 0;
  if (madeMs > last) await meta.put({ key: LAST_EXPORT, value: madeMs });
}

/** What the reminder needs. */
export const backupState = ({ db }: { readonly db: Database }): Promise<BackupState> =>
  db.transaction('r', [db.unbacked, db.meta], async () => ({
    lastExportMs: (await db.meta.get(LAST_EXPORT))?.value ?? null,
    attemptsSince: await db.unbacked.count(),
    firstSinceMs: (await db.unbacked.orderBy('atMs').first())?.atMs ?? null,
  }));
