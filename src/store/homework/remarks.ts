import * as v from 'valibot';
import { id, instant, list, points, text } from '../../music/schema/index.ts';
import { takeOrder } from '../context.ts';
import type { Context } from '../context.ts';
import { redigest } from '../backup/merge.ts';
import { asStoreProblem } from '../problem.ts';
import { checkOwn } from '../schema/index.ts';
import type { Override } from '../types.ts';

/** A teacher's word on a take that came back, on its way to the student with the next link. */
export type Remark = Pick<Override, 'id' | 'attemptId' | 'atMs' | 'mark' | 'remark'>;

/** A link carries this many at most, the newest; longer ones are cut, so that it fits a QR code. */
const MOST = 8;
const LONGEST = 160;

export const remarks = list(
  v.strictObject({ id, attemptId: id, atMs: instant, mark: v.nullable(points), remark: text(LONGEST) }),
  [0, MOST],
);

export function remarksOf(context: Context) {
  const { db } = context;
  return {
    /**
     * What a teacher has said since `sinceMs` of takes that came back from this student, newest first: each take's
     * newest word.
     */
    toSend: (studentId: string, sinceMs: number, untilMs = Infinity): Promise<Remark[]> =>
      asStoreProblem(async () => {
        const said = (await db.overrides.where({ studentId }).toArray())
          .filter(({ atMs, mark, remark }) => atMs > sinceMs && atMs <= untilMs && (mark !== null || remark))
          .sort((a, b) => b.order - a.order);
        const newest = [...new Map(said.toReversed().map((one) => [one.attemptId, one])).values()].reverse();
        const attempts = await db.attempts.bulkGet(newest.map(({ attemptId }) => attemptId));
        return newest
          .filter((_, i) => attempts[i]?.homeworkId)
          .slice(0, MOST)
          .map((one) => ({
            ...{ id: one.id, attemptId: one.attemptId, atMs: one.atMs, mark: one.mark },
            remark: one.remark.slice(0, LONGEST),
          }));
      }),

    /** Lays remarks that a link brought over the takes that are here; those already here are passed over. */
    receive: (given: readonly Remark[]): Promise<void> =>
      asStoreProblem(() =>
        db.transaction('rw', db.tables, async () => {
          for (const one of given) {
            const attempt = await db.attempts.get(one.attemptId);
            if (!attempt || (await db.overrides.get(one.id))) continue;
            const { studentId } = attempt;
            const override = { ...one, studentId, order: await takeOrder(context), verdicts: [] };
            await db.overrides.add(checkOwn('overrides', override) as Override);
            await redigest(context, [one.attemptId]);
          }
        }),
      ),
  };
}
