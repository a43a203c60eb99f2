import type { Context } from './context.ts';
import type { Database } from './database.ts';
import { asStoreProblem } from './problem.ts';
import type { DerivedRow } from './rows.ts';
import type { Json } from './types.ts';

const REVISION = 'revision';
const keyOf = (studentId: string, name: string): string => `${studentId} ${name}`;

/** How often the attempts or overrides of a student have changed. */
export const revisionOf = async (db: Database, studentId: string): Promise<number> =>
  Number((await db.derived.get(keyOf(studentId, REVISION)))?.value ?? 0);

/** These students' attempts or overrides have changed. Only inside a transaction that can write `derived`. */
export async function touch({ db }: Pick<Context, 'db'>, studentIds: Iterable<string>): Promise<void> {
  for (const studentId of new Set(studentIds)) {
    const key = keyOf(studentId, REVISION);
    const value = (await revisionOf(db, studentId)) + 1;
    await db.derived.put({ key, studentId, name: REVISION, stamp: '', value });
  }
}

export function derived({ db }: Context) {
  return {
    /**
     * The kept value, or what `make` gives, which is then kept. What changed while it was made is seen next time.
     * @param name what it is; @param rule changes when it would be computed otherwise (version, settings)
     */
    recall: <T extends Json>(
      studentId: string,
      name: string,
      rule: string,
      make: () => Promise<T>,
    ): Promise<T> =>
      asStoreProblem(async () => {
        const key = keyOf(studentId, name);
        const stamp = `${await revisionOf(db, studentId)} ${rule}`;
        const kept = await db.derived.get(key);
        if (kept?.stamp === stamp) return kept.value as T;
        const value = await make();
        // A student deleted meanwhile leaves nothing behind.
        await db.transaction('rw', [db.students, db.derived], async () => {
          if (await db.students.get(studentId)) await db.derived.put({ key, studentId, name, stamp, value });
        });
        return value;
      }),

    /** The values of this name that still hold, by student. */
    all: (name: string, rule: string): Promise<ReadonlyMap<string, Json>> =>
      asStoreProblem(async () => {
        // Two reads of one name each: for two names at once the browser hands the rows over one by one.
        const [rows, counts] = await db.transaction('r', db.derived, () =>
          Promise.all([name, REVISION].map((one) => db.derived.where({ name: one }).toArray())),
        );
        const revisions = new Map(counts!.map(({ studentId, value }) => [studentId, Number(value)]));
        const holds = ({ studentId, stamp }: DerivedRow) =>
          stamp === `${revisions.get(studentId) ?? 0} ${rule}`;
        return new Map(rows!.filter(holds).map(({ studentId, value }) => [studentId, value]));
      }),
  };
}
