import Dexie from 'dexie';
import type { Table } from 'dexie';
import type {
  AudioSize,
  BlockRow,
  DerivedRow,
  DigestRow,
  HistoryRow,
  LooseRow,
  StudioRow,
  UnbackedRow,
  VersionRow,
} from './rows.ts';
import { NO_CARD, NO_OUTCOMES, NO_WORDS, withCountedHelp } from './schema/migrations.ts';
import { logChanges } from './sync/log.ts';
import type {
  Attempt,
  BlindMark,
  Conflict,
  Draft,
  Homework,
  KeptSitting,
  KeptTrack,
  LessonNote,
  Override,
  SavedAudio,
  Setting,
  Student,
} from './types.ts';

export interface Database extends Dexie {
  readonly students: Table<Student, string>;
  readonly attempts: Table<Attempt, string>;
  readonly overrides: Table<Override, string>;
  readonly lessonNotes: Table<LessonNote, string>;
  readonly homework: Table<Homework, string>;
  readonly blindMarks: Table<BlindMark, string>;
  readonly settings: Table<Setting, string>;
  readonly drafts: Table<Draft, string>;
  readonly digests: Table<DigestRow, string>;
  readonly derived: Table<DerivedRow, string>;
  readonly blocks: Table<BlockRow, string>;
  readonly loose: Table<LooseRow, string>;
  readonly unbacked: Table<UnbackedRow, string>;
  readonly audio: Table<SavedAudio, string>;
  readonly audioSizes: Table<AudioSize, string>;
  readonly conflicts: Table<Conflict, string>;
  readonly tracks: Table<KeptTrack, string>;
  readonly versions: Table<VersionRow, string>;
  readonly history: Table<HistoryRow, string>;
  readonly studio: Table<StudioRow, string>;
  readonly sittings: Table<KeptSitting, string>;
  /** The app's own bookkeeping: last order, digest version, last export. */
  readonly meta: Table<{ readonly key: string; readonly value: number }, string>;
}

/**
 * Tables and indexes by database version. A new version is added below the others, never in their place:
 * Dexie upgrades from whichever is found. `[studentId+order]` serves every list of a student's attempts.
 */
export function makeDatabase(name: string, now: () => number = Date.now): Database {
  // Strict durability: "written" means on the disk, so a crash after it loses nothing. Chromium's default
  // is relaxed: the write may still be in the system's cache when the transaction reports complete.
  const db = new Dexie(name, { chromeTransactionDurability: 'strict' }) as Database;
  db.version(1).stores({
    students: 'id',
    attempts: 'id, [studentId+order], order, homeworkId',
    overrides: 'id, attemptId, studentId',
    lessonNotes: 'id, [studentId+atMs]',
    homework: 'id, studentId',
    blindMarks: 'id, attemptId, studentId',
    settings: 'key',
    drafts: 'id, studentId',
    digests: 'attemptId, [studentId+order], order, atMs',
    audio: 'attemptId, studentId',
    audioSizes: 'attemptId, studentId, order',
    conflicts: 'id, studentId',
    meta: 'key',
  });
  db.version(2)
    .stores({ derived: 'key, studentId, name' })
    .upgrade(async (old) => {
      // As `migrations.ts` does for files: a student may have outcomes of their own, and none had yet.
      await old
        .table('students')
        .toCollection()
        .modify((student) => (student.thresholds = null));
      await old
        .table('conflicts')
        .filter(({ table }) => table === 'students')
        .modify(({ theirs }) => (theirs.thresholds = null));
    });
  db.version(3)
    .stores({ blocks: 'id, studentId, schema', loose: 'attemptId, studentId' })
    .upgrade(async (old) => {
      const loose: LooseRow[] = [];
      await old
        .table('attempts')
        .orderBy('[studentId+order]')
        .eachKey((key, { primaryKey }) =>
          loose.push({ attemptId: String(primaryKey), studentId: String((key as unknown[])[0]) }),
        );
      await old.table('loose').bulkAdd(loose);
    });
  db.version(4)
    .stores({ unbacked: 'attemptId, studentId, atMs' })
    .upgrade(async (old) => {
      for (const [table, fresh] of [
        ['students', NO_CARD],
        ['homework', NO_WORDS],
      ] as const) {
        await old
          .table(table)
          .toCollection()
          .modify((row) => void Object.assign(row, { ...fresh, ...row }));
        await old
          .table('conflicts')
          .filter((conflict) => conflict.table === table)
          .modify(({ theirs }) => void Object.assign(theirs, { ...fresh, ...theirs }));
      }
      // What no backup held was told by the place of the last attempt that one did hold.
      const held: number = (await old.table('meta').get('lastExportOrder'))?.value ?? 0;
      const rows = (await old.table('digests').where('order').above(held).toArray()) as DigestRow[];
      await old
        .table('unbacked')
        .bulkAdd(rows.map(({ attemptId, studentId, atMs }) => ({ attemptId, studentId, atMs })));
      await old.table('meta').delete('lastExportOrder');
    });
  db.version(5).upgrade(async (old) => {
    // As `migrations.ts` does for files: help is counted.
    await old
      .table('attempts')
      .toCollection()
      .modify((attempt, ref) => void (ref.value = withCountedHelp(attempt)));
    await old
      .table('conflicts')
      .filter(({ table }) => table === 'attempts')
      .modify((one) => (one.theirs = withCountedHelp(one.theirs)));
    // Sound is its attempt's: what a file had filed under another student goes where its attempt is, or away.
    for (const name of ['audio', 'audioSizes']) {
      const table = old.table<{ attemptId: string; studentId: string }, string>(name);
      for (const attemptId of await table.toCollection().primaryKeys()) {
        const attempt = await old.table<Attempt, string>('attempts').get(attemptId);
        if (!attempt) await table.delete(attemptId);
        else await table.where(':id').equals(attemptId).modify({ studentId: attempt.studentId });
      }
    }
  });
  db.version(6).upgrade(async (old) => {
    // As `migrations.ts` does for files: what counted as there when earlier homework was set is not known.
    await old
      .table('homework')
      .toCollection()
      .modify((homework) => void (homework.thresholds = null));
    await old
      .table('conflicts')
      .filter(({ table }) => table === 'homework')
      .modify((one) => void (one.theirs = { ...NO_OUTCOMES, ...one.theirs }));
  });
  // Recordings of pieces, where their owner asked to keep them: only here, in no backup.
  db.version(7).stores({ tracks: 'id' });
  // A studio: which version of each row is here, what was overwritten, and the place in it. Empty without one.
  db.version(8).stores({ versions: 'at, studentId, pending', history: 'item, studentId', studio: 'key' });
  // Whole sittings that are over.
  db.version(9).stores({ sittings: 'id, [studentId+atMs]' });
  // A row may have to be told away from several students.
  db.version(10).upgrade((old) =>
    old
      .table('versions')
      .toCollection()
      .modify((row) => {
        const { movedFrom, before } = row as { movedFrom: string | null; before: string | null };
        delete row.movedFrom;
        const known = movedFrom !== null && before !== null;
        Object.assign(row, {
          sent: row.pending === 0,
          before: movedFrom === null ? before : null,
          awayFrom: known ? [{ studentId: movedFrom, item: before }] : [],
        });
      }),
  );
  db.use(logChanges(now));
  return db;
}

/** Every table that holds something of one student, for deleting wholly. */
export const OF_A_STUDENT = [
  'attempts',
  'overrides',
  'lessonNotes',
  'homework',
  'blindMarks',
  'drafts',
  'digests',
  'derived',
  'blocks',
  'loose',
  'unbacked',
  'audio',
  'audioSizes',
  'conflicts',
  'history',
  'sittings',
] as const;
