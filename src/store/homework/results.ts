import { opened } from '../backup/inWorker.ts';
import { merge } from '../backup/merge.ts';
import { addUnbacked } from '../backup/unbacked.ts';
import type { MergedAttempts, MergeReport } from '../backup/merge.ts';
import { canonical } from '../canonical.ts';
import { audio as soundOf } from '../audio.ts';
import { doubtOf } from '../context.ts';
import type { Context } from '../context.ts';
import { asStoreProblem, ImportProblem, StoreProblem } from '../problem.ts';
import { TABLE_NAMES } from '../schema/index.ts';
import type { Attempt, Records, SavedAudio, Student } from '../types.ts';

/** What became of results; `conflicts` of them carry the id of another attempt that is here. */
export interface ResultsReport extends MergeReport {
  readonly studentId: string;
  /** Added, shown and not counted: see `Doubt`. */
  readonly doubted: number;
  /** Takes that came with their sound and are kept with it. */
  readonly heard: number;
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

/** Keeps the sound of attempts that are in the record by now. A disk that is full keeps what it can. @returns how many. */
async function keepSound(
  context: Context,
  takes: readonly SavedAudio[],
  limitBytes: number,
): Promise<number> {
  const sound = soundOf(context);
  let kept = 0;
  for (const { attemptId, mime, bytes } of takes)
    try {
      if ((await sound.save(attemptId, { mime, bytes }, limitBytes)) !== null) kept += 1;
    } catch (error) {
      if (!(error instanceof StoreProblem) || (error.code !== 'quota' && error.code !== 'missing'))
        throw error;
    }
  return kept;
}

export function results(context: Context) {
  const { db, now } = context;
  return {
    /**
     * Adds the results to the record of whoever the homework was set for, or of `student` where this
     * machine does not know the homework.
     * @param soundBytes space for the sound of takes on this machine, bytes; 0: what came along is not kept
     * @throws ImportProblem 'unknown-homework' when neither is known; nothing changed.
     */
    add: (
      from: Uint8Array<ArrayBuffer> | string,
      student?: Student,
      soundBytes = 0,
    ): Promise<ResultsReport> =>
      asStoreProblem(async () => {
        const { homeworkId, attempts, sittings, audio } = await opened('results', from);
        const homework = await db.homework.get(homeworkId);
        const studentId = homework?.studentId ?? student?.id;
        if (studentId === undefined || !(await db.students.get(studentId)))
          throw new ImportProblem('unknown-homework', `homework ${homeworkId} was not set on this machine`);
        const records = Object.fromEntries(TABLE_NAMES.map((table) => [table, []])) as unknown as Records;
        // One that was moved to another student since it came stays there.
        const here = await db.attempts.bulkGet(attempts.map(({ id: one }) => one));
        const owned = placed(attempts, here, now()).map((attempt, i) => ({
          ...attempt,
          studentId: here[i]?.homeworkId === homeworkId ? here[i].studentId : studentId,
        }));
        // One of other stations than were set is none of this homework; one that is here keeps what was added to it here.
        const sat = sittings.filter(
          ({ run }) => !homework?.sitting || canonical(run.setup) === canonical(homework.sitting),
        );
        const known = await db.sittings.bulkGet(sat.map(({ id: one }) => one));
        const newSittings = sat.filter((_, i) => !known[i]).map((one) => ({ ...one, studentId }));
        const settle = ({ fresh }: MergedAttempts) => addUnbacked(db, fresh);
        const report = await merge(
          context,
          { ...records, attempts: owned, sittings: newSittings },
          [],
          settle,
          'results',
        );
        const fresh = owned.filter((_, i) => !here[i]);
        const doubts = await Promise.all(fresh.map((attempt) => doubtOf(context, attempt)));
        const heard = await keepSound(context, soundBytes > 0 ? audio : [], soundBytes);
        return { ...report, studentId, doubted: doubts.filter((one) => one !== null).length, heard };
      }),
  };
}
