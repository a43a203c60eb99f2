import { packLoose } from '../blocks.ts';
import { attemptsCsv, blindMarksCsv } from '../csv.ts';
import type { Database } from '../database.ts';
import { gunzippedJson } from '../gzip.ts';
import { TABLE_NAMES } from '../schema/index.ts';
import { SCHEMA_VERSION } from '../schema/migrations.ts';
import type { Attempt, Records, SavedAudio } from '../types.ts';
import { listAudio, listBlocks } from './attachments.ts';
import { packer } from './container.ts';

/** What can be taken out: the whole record, or one of the tables for a spreadsheet. */
export type ExportKind = 'backup' | 'attempts-csv' | 'blind-marks-csv';

/** Loose attempts read at a time: half a thousand are some 2 MB of JSON. */
const CHUNK = 500;
/** Saved takes read at a time: some 2 MB. */
const AUDIO_CHUNK = 20;
const OTHERS = TABLE_NAMES.filter((name) => name !== 'attempts');

/** The attempts that are in no block. Only inside a transaction. */
async function eachLooseChunk(db: Database, take: (rows: Attempt[]) => void): Promise<void> {
  const ids = await db.loose.toCollection().primaryKeys();
  for (let at = 0; at < ids.length; at += CHUNK)
    take((await db.attempts.bulkGet(ids.slice(at, at + CHUNK))).filter((one) => one !== undefined));
}

/** Every saved take in the order of its key. Only inside a transaction. */
async function allAudio(db: Database): Promise<SavedAudio[]> {
  const all: SavedAudio[] = [];
  for (let after: string | null = null; ;) {
    const takes: SavedAudio[] = await (after === null
      ? db.audio.orderBy(':id').limit(AUDIO_CHUNK).toArray()
      : db.audio.where(':id').above(after).limit(AUDIO_CHUNK).toArray());
    all.push(...takes);
    if (takes.length < AUDIO_CHUNK) return all;
    after = takes[takes.length - 1]!.attemptId;
  }
}

/**
 * The whole record as a file: one consistent moment of every table, packed blocks as they are, the rest written as
 * JSON and packed. Reading waits for other processes, so all of it is asked for at once. It is made to run in a worker
 * (`store.worker.ts`); nothing here needs a page.
 */
export async function exportBackup(db: Database, nowMs: number): Promise<Uint8Array<ArrayBuffer>> {
  const file = packer('backup');
  const loose: string[] = [];
  const [, blocks, audio, others] = await db.transaction('r', db.tables, () =>
    Promise.all([
      eachLooseChunk(db, (rows) => loose.push(JSON.stringify(rows).slice(1, -1))),
      db.blocks.toArray(),
      allAudio(db),
      Promise.all(OTHERS.map(async (name) => [name, await db.table<unknown>(name).toArray()] as const)),
    ]),
  );
  const rows = new Map(others);
  file.write(`{"schema":${SCHEMA_VERSION},"exportedAtMs":${Math.floor(nowMs)},"records":{`);
  for (const [i, name] of TABLE_NAMES.entries()) {
    const list = name === 'attempts' ? `[${loose.splice(0).join(',')}]` : JSON.stringify(rows.get(name));
    file.write(`${i === 0 ? '' : ','}"${name}":${list}`);
  }
  file.write(`},"blocks":${JSON.stringify(listBlocks(blocks))},"audio":${JSON.stringify(listAudio(audio))}}`);
  blocks.forEach(({ gzip }) => file.attach(gzip));
  audio.forEach(({ bytes }) => file.attach(bytes));
  return file.end();
}

/** Everything but sound, in memory. */
async function allRecords(db: Database): Promise<Records> {
  const { blocks, loose, others } = await db.transaction('r', db.tables, async () => {
    const found: Attempt[] = [];
    await eachLooseChunk(db, (rows) => found.push(...rows));
    const tables = await Promise.all(OTHERS.map((table) => db.table(table).toArray()));
    return {
      blocks: await db.blocks.toArray(),
      loose: found,
      others: Object.fromEntries(OTHERS.map((table, i) => [table, tables[i]])),
    };
  });
  const packed = await Promise.all(
    blocks.map(async ({ gzip }) => (await gunzippedJson(gzip, Infinity)).json),
  );
  return { ...others, attempts: [...loose, ...(packed as Attempt[][]).flat()] } as unknown as Records;
}

/** Any of the three, as bytes. */
export async function exported(
  db: Database,
  kind: ExportKind,
  nowMs: number,
): Promise<Uint8Array<ArrayBuffer>> {
  // A full disk must not stand between a record and its backup: then what is loose goes in unpacked.
  await packLoose(db).catch(() => undefined);
  if (kind === 'backup') return exportBackup(db, nowMs);
  const records = await allRecords(db);
  return new TextEncoder().encode(kind === 'attempts-csv' ? attemptsCsv(records) : blindMarksCsv(records));
}
