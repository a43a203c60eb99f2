import * as v from 'valibot';
import { ImportProblem } from '../problem.ts';
import { firstIssue } from '../schema/records.ts';
import { id, instant, list, text, whole } from '../schema/parts.ts';
import type { SavedAudio } from '../types.ts';

/** How the attachments of a backup are cut: one saved take after another. */
const schema = list(
  v.strictObject({
    attemptId: id,
    studentId: id,
    order: instant,
    mime: text(200),
    bytes: whole(1, 2 ** 31),
  }),
  1e6,
);

export const listAudio = (takes: readonly SavedAudio[]) =>
  takes.map(({ bytes, ...rest }) => ({ ...rest, bytes: bytes.length }));

/** @throws ImportProblem 'invalid' when the list does not fit the attachments to the byte. */
export function cutAudio(value: unknown, attachments: Uint8Array<ArrayBuffer>): SavedAudio[] {
  const result = v.safeParse(schema, value, { abortEarly: true });
  if (!result.success) throw new ImportProblem('invalid', `audio ${firstIssue(result.issues)}`);
  let at = 0;
  const takes = result.output.map(({ bytes, ...rest }) => {
    const sound = attachments.slice(at, at + bytes);
    at += bytes;
    return { ...rest, bytes: sound };
  });
  if (at !== attachments.length)
    throw new ImportProblem('invalid', `audio: ${at} bytes listed, ${attachments.length} there`);
  return takes;
}
