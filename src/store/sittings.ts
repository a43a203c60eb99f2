import { playedIn, type SittingRun } from '../music/sitting.ts';
import { packRecords } from './backup/file.ts';
import { canonical } from './canonical.ts';
import type { Context } from './context.ts';
import { asStoreProblem, StoreProblem } from './problem.ts';
import { checkOwn } from './schema/index.ts';
import type { KeptSitting } from './types.ts';

/** Sittings that are over, by student. */
export function sittings({ db, now }: Context) {
  return {
    get: (id: string): Promise<KeptSitting | null> =>
      asStoreProblem(async () => (await db.sittings.get(id)) ?? null),

    /** A student's, newest first. */
    all: (studentId: string): Promise<KeptSitting[]> =>
      asStoreProblem(async () =>
        (
          await db.sittings.where('[studentId+atMs]').between([studentId, 0], [studentId, Infinity]).toArray()
        ).reverse(),
      ),

    /**
     * Those of a homework, whoever sat them, newest first: their setup bears its id. Where this machine knows what was
     * set, one of other stations is none of it.
     */
    ofHomework: (homeworkId: string): Promise<KeptSitting[]> =>
      asStoreProblem(async () => {
        const set = (await db.homework.get(homeworkId))?.sitting;
        const same = set && canonical(set);
        const found = await db.sittings
          .filter(({ run: { setup } }) => setup.id === homeworkId && (!set || canonical(setup) === same))
          .toArray();
        return found.sort((a, b) => b.atMs - a.atMs);
      }),

    /**
     * Keeps a sitting that is over, or what an examiner has added to it; when it was over stays.
     * @throws StoreProblem 'missing' when the student was deleted meanwhile; TypeError when it does not fit the schema
     */
    put: (studentId: string, run: SittingRun): Promise<KeptSitting> =>
      asStoreProblem(() =>
        db.transaction('rw', [db.students, db.sittings], async () => {
          if (!(await db.students.get(studentId)))
            throw new StoreProblem('missing', `no student ${studentId}`);
          const before = await db.sittings.get(run.id);
          const kept = checkOwn('sittings', {
            ...{ id: run.id, studentId: before?.studentId ?? studentId },
            ...{ atMs: before?.atMs ?? Math.floor(now()), run },
          }) as KeptSitting;
          await db.sittings.put(kept);
          return kept;
        }),
      ),

    /**
     * One sitting with its student, its takes and what the teacher said of them, as a file that another machine adds
     * to its record (no sound). null: there is no such sitting.
     */
    file: (id: string): Promise<Uint8Array<ArrayBuffer> | null> =>
      asStoreProblem(async () => {
        const kept = await db.sittings.get(id);
        const student = kept && (await db.students.get(kept.studentId));
        if (!kept || !student) return null;
        const found = (await db.attempts.bulkGet(playedIn(kept.run))).filter((one) => one !== undefined);
        const attempts = found.filter(({ studentId }) => studentId === student.id);
        const own = attempts.map((attempt) => attempt.id);
        const overrides = await db.overrides.where('attemptId').anyOf(own).toArray();
        return packRecords({ students: [student], attempts, overrides, sittings: [kept] });
      }),

    remove: (id: string): Promise<void> => asStoreProblem(() => db.sittings.delete(id)),
  };
}
