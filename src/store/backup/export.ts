import type { Table } from 'dexie';
import { attemptsCsv, blindMarksCsv } from '../csv.ts';
import type { Database } from '../database.ts';
import { TABLE_NAMES } from '../schema/index.ts';
import { SCHEMA_VERSION } from '../schema/migrations.ts';
import type { Records, SavedAudio } from '../types.ts';
import { listAudio } from './audio-list.ts';
import { packer } from './container.ts';

/** What can be taken out: the whole record, or one of the tables for a spreadsheet. */
export type ExportKind = 'backup' | 'attempts-csv' | 'blind-marks-csv';

/** Rows read at a time: half a thousand attempts are some 2 MB of JSON. */
const CHUNK = 500;
/** Saved takes read at a time. */
const AUDIO_CHUNK = 20;

/** Every row of a table in the order of its keys, some at a time. Only inside a transaction. */
async function eachChunk<T, K extends string>(
  table: Table<T, K>,
  size: number,
  take: (rows: T[]) => void,
  keyOf: (row: T) => K,
): Promise<void> {
  for (let after: K | null = null; ;) {
    const rows: T[] = await (after === null
      ? table.orderBy(':id').limit(size).toArray()
      : table.where(':id').above(after).limit(size).toArray());
    if (rows.length > 0) take(rows);
    if (rows.length < size) return;
    after = keyOf(rows[rows.length - 1]!);
  }
}

/**
 * The whole record as a file: one consistent moment of every table, read, written as JSON and packed some rows at a
 * time. It is made to run in a worker (`export.worker.ts`); nothing here needs a page.
 */
export async function exportBackup(db: Database, nowMs: number): Promise<Uint8Array<ArrayBuffer>> {
  const file = packer('backup');
  const audio: Omit<SavedAudio, 'bytes'>[] = [];
  await db.transaction('r', db.tables, async () => {
    file.write(`{"schema":${SCHEMA_VERSION},"exportedAtMs":${Math.floor(nowMs)},"records":{`);
    for (const [i, name] of TABLE_NAMES.entries()) {
      file.write(`${i === 0 ? '' : ','}"${name}":[`);
      let between = '';
      await eachChunk(
        db.table<{ id: string; key: string }, string>(name),
        CHUNK,
        (rows) => {
          file.write(between + JSON.stringify(rows).slice(1, -1));
          between = ',';
        },
        (row) => (name === 'settings' ? row.key : row.id),
      );
      file.write(']');
    }
    await eachChunk(
      db.audio,
      AUDIO_CHUNK,
      (takes) => {
        audio.push(...listAudio(takes));
        takes.forEach(({ bytes }) => file.attach(bytes));
      },
      ({ attemptId }) => attemptId,
    );
  });
  file.write(`},"audio":${JSON.stringify(audio)}}`);
  return file.end();
}

/** Any of the three, as bytes. */
export async function exported(
  db: Database,
  kind: ExportKind,
  nowMs: number,
): Promise<Uint8Array<ArrayBuffer>> {
  if (kind === 'backup') return exportBackup(db, nowMs);
  const records = await db.transaction('r', db.tables, async () => {
    const tables = await Promise.all(TABLE_NAMES.map((table) => db.table(table).toArray()));
    return Object.fromEntries(TABLE_NAMES.map((table, i) => [table, tables[i]])) as unknown as Records;
  });
  return new TextEncoder().encode(kind === 'attempts-csv' ? attemptsCsv(records) : blindMarksCsv(records));
}
