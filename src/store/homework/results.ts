import * as v from 'valibot';
import { pack, unpack } from '../backup/container.ts';
import { open } from '../backup/file.ts';
import { opened } from '../backup/inWorker.ts';
import { merge } from '../backup/merge.ts';
import { addUnbacked } from '../backup/unbacked.ts';
import type { MergedAttempts, MergeReport } from '../backup/merge.ts';
import { canonical } from '../canonical.ts';
import { doubtOf } from '../context.ts';
import type { Context } from '../context.ts';
import { asStoreProblem, ImportProblem } from '../problem.ts';
import { checkRecords, TABLE_NAMES } from '../schema/index.ts';
import { migrate, SCHEMA_VERSION } from '../schema/migrations.ts';
import { id } from '../../music/schema/index.ts';
import { firstIssue } from '../schema/records.ts';
import type { Attempt, Records, Student } from '../types.ts';
import { fromBase64Url, toBase64Url } from './fragment.ts';

/** Stands for the student in a results file: who it is, only the teacher's machine knows. */
const NOBODY = '0'.repeat(32);

const envelope = v.strictObject({
  schema: v.pipe(v.number(), v.integer(), v.minValue(1)),
  homeworkId: id,
  attempts: v.unknown(),
});

/**
 * Results of one homework, on their way back to the teacher. Attempts carry their own random ids, so the
 * same results by file and by link, twice, or in any order, add up to each attempt once.
 */
export async function packResults(homeworkId: string, attempts: readonly Attempt[]) {
  const own = attempts.filter((attempt) => attempt.homeworkId === homeworkId);
  const nameless = own.map((attempt) => ({ ...attempt, studentId: NOBODY }));
  return pack('results', { schema: SCHEMA_VERSION, homeworkId, attempts: nameless });
}

/** The same as the part after `results=` of a link's fragment. */
export const resultsFragment = async (homeworkId: string, attempts: readonly Attempt[]): Promise<string> =>
  toBase64Url(await packResults(homeworkId, attempts));

export interface Results {
  readonly homeworkId: string;
  readonly attempts: readonly Attempt[];
}

/** @throws ImportProblem; see its codes. */
export async function unpackResults(from: Uint8Array<ArrayBuffer> | string): Promise<Results> {
  const container = await unpack(typeof from === 'string' ? fromBase64Url(from) : from);
  const result = v.safeParse(envelope, open(container, 'results'), { abortEarly: true });
  if (!result.success) throw new ImportProblem('invalid', firstIssue(result.issues));
  const { schema, homeworkId } = result.output;
  const empty = Object.fromEntries(TABLE_NAMES.map((table) => [table, []]));
  const { attempts } = checkRecords(migrate({ ...empty, attempts: result.output.attempts }, schema));
  if (attempts.some((attempt) => attempt.homeworkId !== homeworkId))
    throw new ImportProblem('invalid', 'an attempt of another homework');
  if (new Set(attempts.map((attempt) => attempt.id)).size !== attempts.length)
    throw new ImportProblem('invalid', 'attempts: an id stands twice');
  return { homeworkId, attempts };
}

/** What became of results; `conflicts` of them carry the id of another attempt that is here. */
export interface ResultsReport extends MergeReport {
  readonly studentId: string;
  /** Added, shown and not counted: see `Doubt`. */
  readonly doubted: number;
}

/**
 * Puts attempts in their place here. A device whose clock runs ahead, or a forger, would keep them the newest for
 * good: what lies ahead of this device's clock stands at its present, in the order it had. What is here already
 * keeps the place it was given.
 */
function placed(
  attempts: readonly Attempt[],
  here: readonly (Attempt | undefined)[],
  nowMs: number,
): readonly Attempt[] {
  const ahead = attempts.filter(({ order }) => order > nowMs).sort((a, b) => a.order - b.order);
  const place = new Map(ahead.map(({ id: one }, i) => [one, Math.floor(nowMs) - (ahead.length - 1 - i)]));
  return attempts.map((attempt, i) => {
    const ours = here[i];
    const known =
      ours &&
      canonical({ ...ours, order: 0 }) === canonical({ ...attempt, studentId: ours.studentId, order: 0 });
    return { ...attempt, order: known ? ours.order : (place.get(attempt.id) ?? attempt.order) };
  });
}

export function results(context: Context) {
  const { db, now } = context;
  return {
    /**
     * Adds the results to the record of whoever the homework was set for, or of `student` where this
     * machine does not know the homework.
     * @throws ImportProblem 'unknown-homework' when neither is known; nothing changed.
     */
    add: (from: Uint8Array<ArrayBuffer> | string, student?: Student): Promise<ResultsReport> =>
      asStoreProblem(async () => {
        const { homeworkId, attempts } = await opened('results', from);
        const studentId = (await db.homework.get(homeworkId))?.studentId ?? student?.id;
        if (studentId === undefined || !(await db.students.get(studentId)))
          throw new ImportProblem('unknown-homework', `homework ${homeworkId} was not set on this machine`);
        const records = Object.fromEntries(TABLE_NAMES.map((table) => [table, []])) as unknown as Records;
        // One that was moved to another student since it came stays there.
        const here = await db.attempts.bulkGet(attempts.map(({ id: one }) => one));
        const owned = placed(attempts, here, now()).map((attempt, i) => ({
          ...attempt,
          studentId: here[i]?.homeworkId === homeworkId ? here[i].studentId : studentId,
        }));
        const settle = ({ fresh }: MergedAttempts) => addUnbacked(db, fresh);
        const report = await merge(context, { ...records, attempts: owned }, [], settle, 'results');
        const fresh = owned.filter((_, i) => !here[i]);
        const doubts = await Promise.all(fresh.map((attempt) => doubtOf(context, attempt)));
        return { ...report, studentId, doubted: doubts.filter((one) => one !== null).length };
      }),
  };
}
