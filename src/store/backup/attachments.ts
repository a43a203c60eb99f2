import * as v from 'valibot';
import type { BlockRow } from '../rows.ts';
import { gunzippedJson, unpacksTo } from '../gzip.ts';
import { MOST } from '../limits.ts';
import { ImportProblem } from '../problem.ts';
import { migrate } from '../schema/migrations.ts';
import { firstIssue } from '../schema/records.ts';
import { id, instant, list, text, whole } from '../../music/schema/index.ts';
import type { SavedAudio } from '../types.ts';

/** What lies in a backup behind its JSON: packed blocks of attempts, then saved takes, one after another. */
const blockSchema = list(v.strictObject({ schema: whole([1, 1e6]), bytes: whole([1, 2 ** 31]) }), [
  0,
  MOST.attachments,
]);
const audioSchema = list(
  v.strictObject({
    attemptId: id,
    studentId: id,
    order: instant,
    mime: text(200),
    bytes: whole([1, 2 ** 31]),
  }),
  [0, MOST.attachments],
);

export const listBlocks = (blocks: readonly Pick<BlockRow, 'schema' | 'gzip'>[]) =>
  blocks.map(({ schema, gzip }) => ({ schema, bytes: gzip.length }));
export const listAudio = (takes: readonly SavedAudio[]) =>
  takes.map(({ bytes, ...rest }) => ({ ...rest, bytes: bytes.length }));

export interface Cut {
  /** The attempts of all blocks at the present schema, unchecked. */
  readonly attempts: readonly unknown[];
  readonly audio: readonly SavedAudio[];
}

/**
 * @param blocks what the JSON says of the blocks; undefined in files older than they are
 * @param audio what it says of the takes
 * @throws ImportProblem 'invalid' when the lists do not fit the attachments to the byte or a block holds no list,
 *   'newer-version', 'corrupt', 'too-big' for what is in a block.
 */
export async function cutAttachments(
  blocks: unknown,
  audio: unknown,
  attachments: Uint8Array<ArrayBuffer>,
): Promise<Cut> {
  const listed = parsed('blocks', blockSchema, blocks ?? []);
  const takes = parsed('audio', audioSchema, audio);
  const sum = [...listed, ...takes].reduce((all, { bytes }) => all + bytes, 0);
  if (sum !== attachments.length)
    throw new ImportProblem('invalid', `attachments: ${sum} bytes listed, ${attachments.length} there`);
  let at = 0;
  const next = (length: number) => attachments.slice(at, (at += length));
  let left = unpacksTo(
    listed.reduce((all, { bytes }) => all + bytes, 0),
    MOST.backupBytes,
  );
  const attempts: unknown[] = [];
  for (const { schema, bytes } of listed) {
    const { json, length } = await gunzippedJson(next(bytes), Math.min(left, MOST.blockBytes));
    left -= length;
    const migrated = migrate({ attempts: json }, schema) as { attempts: unknown };
    if (!Array.isArray(migrated.attempts)) throw new ImportProblem('invalid', 'a block holds no list');
    attempts.push(...migrated.attempts);
  }
  return { attempts, audio: takes.map(({ bytes, ...rest }) => ({ ...rest, bytes: next(bytes) })) };
}

function parsed<S extends v.GenericSchema>(what: string, schema: S, value: unknown): v.InferOutput<S> {
  const result = v.safeParse(schema, value, { abortEarly: true });
  if (!result.success) throw new ImportProblem('invalid', `${what} ${firstIssue(result.issues)}`);
  return result.output;
}
