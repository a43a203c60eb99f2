import * as v from 'valibot';
import { ImportProblem } from '../problem.ts';
import { checkRecords, TABLE_NAMES } from '../schema/index.ts';
import { migrate, SCHEMA_VERSION } from '../schema/migrations.ts';
import { firstIssue } from '../schema/records.ts';
import { instant } from '../../music/schema/index.ts';
import type { Records, SavedAudio } from '../types.ts';
import { cutAttachments } from './attachments.ts';
import { pack, unpack } from './container.ts';
import type { Container } from './container.ts';

/** Everything of a machine, in memory. */
export interface Backup {
  readonly exportedAtMs: number;
  readonly records: Records;
  readonly audio: readonly SavedAudio[];
}

const envelope = v.strictObject({
  schema: v.pipe(v.number(), v.integer(), v.minValue(1)),
  exportedAtMs: instant,
  records: v.unknown(),
  /** Missing in container version 1. */
  blocks: v.exactOptional(v.unknown()),
  audio: v.unknown(),
});

/** Opens a container of one kind and lifts its JSON to the present schema. */
export function open(container: Container, kind: Container['kind']) {
  if (container.kind !== kind)
    throw new ImportProblem('wrong-kind', `a ${kind} file was expected, this is ${container.kind}`);
  return container.json;
}

/** @throws ImportProblem; see its codes. */
export async function unpackBackup(file: Uint8Array<ArrayBuffer>): Promise<Backup> {
  const container = await unpack(file);
  const result = v.safeParse(envelope, open(container, 'backup'), { abortEarly: true });
  if (!result.success) throw new ImportProblem('invalid', firstIssue(result.issues));
  const { schema, exportedAtMs, blocks } = result.output;
  const loose = migrate(result.output.records, schema);
  const { attempts: packed, audio } = await cutAttachments(
    blocks,
    result.output.audio,
    container.attachments,
  );
  const records = checkRecords(withAttempts(loose, packed));
  checkReferences(records);
  const owners = new Map(records.attempts.map(({ id, studentId }) => [id, studentId]));
  if (audio.some(({ attemptId, studentId }) => owners.get(attemptId) !== studentId))
    throw new ImportProblem('invalid', 'sound of an attempt that is not there, or not that student’s');
  return { exportedAtMs, records, audio };
}

/** A backup of a few records, without sound. */
export const packRecords = (some: Partial<Records>): Promise<Uint8Array<ArrayBuffer>> => {
  const empty = Object.fromEntries(TABLE_NAMES.map((table) => [table, []]));
  const exportedAtMs = some.attempts?.[0]?.atMs ?? 0;
  return pack('backup', {
    ...{ schema: SCHEMA_VERSION, exportedAtMs, records: { ...empty, ...some }, blocks: [], audio: [] },
  });
};

/** Records with these attempts too; what is no record at all is handed on, for the schema to refuse. */
function withAttempts(records: unknown, more: readonly unknown[]): unknown {
  if (more.length === 0 || typeof records !== 'object' || records === null) return records;
  const { attempts } = records as { attempts?: unknown };
  return Array.isArray(attempts) ? { ...records, attempts: [...attempts, ...more] } : records;
}

/** Ids once each; no attempt without its student, no override or blind mark without its attempt. */
function checkReferences(records: Records): void {
  for (const table of TABLE_NAMES) {
    const keys = records[table].map((row) => ('id' in row ? row.id : row.key));
    if (new Set(keys).size !== keys.length)
      throw new ImportProblem('invalid', `${table}: an id stands twice`);
  }
  const students = new Set(records.students.map(({ id }) => id));
  const owner = new Map(records.attempts.map(({ id, studentId }) => [id, studentId]));
  for (const table of ['attempts', 'lessonNotes', 'homework', 'sittings'] as const)
    for (const { studentId } of records[table])
      if (!students.has(studentId)) throw new ImportProblem('invalid', `${table}: no student ${studentId}`);
  for (const table of ['overrides', 'blindMarks'] as const)
    for (const { attemptId, studentId } of records[table])
      if (owner.get(attemptId) !== studentId)
        throw new ImportProblem('invalid', `${table}: no attempt ${attemptId} of student ${studentId}`);
  const verdicts = new Map(
    records.attempts.map(({ id, mark }) => [id, 'verdicts' in mark ? mark.verdicts.length : 0]),
  );
  for (const { attemptId, verdicts: changed } of records.overrides)
    if (changed.some(({ index }) => index >= verdicts.get(attemptId)!))
      throw new ImportProblem('invalid', `overrides: no such verdict in attempt ${attemptId}`);
}
