import type { Practised } from '../tests-engine/index.ts';
import { addUnbacked } from './backup/unbacked.ts';
import { addLoose } from './blocks.ts';
import { doubtOf, putDigest, takeOrder } from './context.ts';
import type { Context } from './context.ts';
import { touch } from './derived.ts';
import { byAttempt, verdictsOf } from './effective.ts';
import { randomId } from './ids.ts';
import { asStoreProblem, StoreProblem } from './problem.ts';
import { checkOwn } from './schema/index.ts';
import { heldTabs } from './tabs.ts';
import type { Attempt, Doubt, Draft, Override } from './types.ts';

export type NewAttempt = Omit<Attempt, 'id' | 'order' | 'atMs'>;
export type NewOverride = Pick<Override, 'attemptId' | 'verdicts' | 'mark' | 'remark' | 'rubric'>;

/** Attempts, from the moment a test begins to the last override. */
export function attempts(context: Context) {
  const { db, now } = context;
  return {
    /** Notes that a test has begun. A draft found later without an attempt is a take that was lost. */
    begin: (draft: Pick<Draft, 'studentId' | 'homeworkId' | 'test' | 'manner'>): Promise<Draft> =>
      asStoreProblem(async () => {
        const begun = { id: randomId(), startedAtMs: Math.floor(now()), tab: context.tab, ...draft };
        await db.drafts.add(begun);
        return begun;
      }),

    /** The student ended the test before the take: nothing is lost, nothing is kept. */
    abandon: (draftId: string): Promise<void> => asStoreProblem(() => db.drafts.delete(draftId)),

    /**
     * Writes a finished attempt; call it before the result is shown. When the promise resolves the attempt
     * is on the disk. It, its digest, its place in the order and the end of its draft are one transaction:
     * a crash leaves all or nothing.
     * @param id given beforehand where it may also have gone into a file
     * @throws StoreProblem 'quota' when the disk is full, with the draft still there; 'missing' when the
     *   student was deleted meanwhile. TypeError when the attempt does not fit the schema.
     */
    finish: (draftId: string | null, attempt: NewAttempt, id = randomId()): Promise<Attempt> =>
      asStoreProblem(async () => {
        const written = await db.transaction(
          'rw',
          [
            ...[db.students, db.homework, db.sittings, db.attempts, db.loose, db.unbacked],
            ...[db.digests, db.derived, db.drafts, db.meta],
          ],
          async () => {
            if (!(await db.students.get(attempt.studentId)))
              throw new StoreProblem('missing', `no student ${attempt.studentId}`);
            const whole = {
              ...attempt,
              id,
              order: await takeOrder(context),
              atMs: Math.floor(now()),
            };
            const checked = checkOwn('attempts', whole) as Attempt;
            await db.attempts.add(checked);
            await addLoose(db, [checked]);
            await addUnbacked(db, [checked]);
            await putDigest(context, checked, []);
            await touch(context, [checked.studentId]);
            if (draftId !== null) await db.drafts.delete(draftId);
            return checked;
          },
        );
        context.packSoon();
        return written;
      }),

    /** Takes that were lost to a crash, reload or full disk, oldest first; those of open tabs are not. */
    lost: (): Promise<Draft[]> =>
      asStoreProblem(async () => {
        const held = await heldTabs();
        return (await db.drafts.toArray())
          .filter(({ tab }) => tab !== context.tab && !held.has(tab))
          .sort((a, b) => a.startedAtMs - b.startedAtMs);
      }),

    /** The loss has been told: forget these drafts. */
    told: (drafts: readonly Draft[]): Promise<void> =>
      asStoreProblem(() => db.drafts.bulkDelete(drafts.map(({ id }) => id))),

    get: (id: string): Promise<Attempt | null> =>
      asStoreProblem(async () => (await db.attempts.get(id)) ?? null),

    /** A student's newest attempts first, `limit` at a time; `before` = order of the last one shown. */
    newest: (studentId: string, limit: number, before = Infinity): Promise<Attempt[]> =>
      asStoreProblem(() =>
        db.transaction('r', db.attempts, async () => {
          // All keys in one answer, then these rows in one: read backwards they would come one by one.
          const keys = await db.attempts
            .where('[studentId+order]')
            .between([studentId, 0], [studentId, before], true, false)
            .primaryKeys();
          const rows = await db.attempts.bulkGet(limit > 0 ? keys.slice(-limit).reverse() : []);
          return rows.filter((one) => one !== undefined);
        }),
      ),

    ofHomework: (homeworkId: string): Promise<Attempt[]> =>
      asStoreProblem(() => db.attempts.where('homeworkId').equals(homeworkId).sortBy('order')),

    /** Those that count: what is in doubt has no digest. */
    countOfHomework: (homeworkId: string): Promise<number> =>
      asStoreProblem(async () => {
        const ids = await db.attempts.where('homeworkId').equals(homeworkId).primaryKeys();
        return (await db.digests.bulkGet(ids)).filter((row) => row !== undefined).length;
      }),

    /** Why an attempt is not counted; null where it is. */
    doubtOf: (attempt: Attempt): Promise<Doubt | null> => asStoreProblem(() => doubtOf(context, attempt)),

    /** All that progress, estimates and the choice of tests need of a student, in order. */
    digests: (studentId: string): Promise<Practised[]> =>
      asStoreProblem(async () =>
        (
          await db.digests.where('[studentId+order]').between([studentId, 0], [studentId, Infinity]).toArray()
        ).map(({ digest }) => digest),
      ),

    overridesOf: (attemptId: string): Promise<Override[]> =>
      asStoreProblem(() => db.overrides.where('attemptId').equals(attemptId).sortBy('order')),

    /** The same of several attempts at once; with none, an attempt is left out. */
    overridesOfAll: (attemptIds: readonly string[]): Promise<ReadonlyMap<string, Override[]>> =>
      asStoreProblem(async () => {
        const found = await db.transaction('r', db.overrides, () =>
          Promise.all(attemptIds.map((attemptId) => db.overrides.where({ attemptId }).toArray())),
        );
        return byAttempt(found.flat().sort((a, b) => a.order - b.order));
      }),

    /** Adds a teacher's override; earlier ones and the original stay. */
    override: (given: NewOverride): Promise<Override> =>
      asStoreProblem(() =>
        db.transaction(
          'rw',
          [db.attempts, db.overrides, db.homework, db.sittings, db.digests, db.derived, db.meta],
          async () => {
            const attempt = await db.attempts.get(given.attemptId);
            if (!attempt) throw new StoreProblem('missing', `no attempt ${given.attemptId}`);
            const beyond = given.verdicts.find(({ index }) => index >= verdictsOf(attempt).length);
            if (beyond)
              throw new RangeError(
                `verdict index must be 0…${verdictsOf(attempt).length - 1}, got ${beyond.index}`,
              );
            const whole = checkOwn('overrides', {
              id: randomId(),
              studentId: attempt.studentId,
              atMs: Math.floor(now()),
              order: await takeOrder(context),
              ...given,
            }) as Override;
            await db.overrides.add(whole);
            await putDigest(context, attempt, await db.overrides.where({ attemptId: attempt.id }).toArray());
            await touch(context, [attempt.studentId]);
            return whole;
          },
        ),
      ),
  };
}
