import { formOf, isRight } from '../music/question.ts';
import { playedIn } from '../music/sitting.ts';
import type { AnyMark, AttemptFacts, Practised } from '../tests-engine/index.ts';
import type { Database } from './database.ts';
import { effectiveMark, newestOverride } from './effective.ts';
import { nextOrder } from './order.ts';
import type { DigestRow } from './rows.ts';
import type { Task } from '../music/task.ts';
import type { Attempt, Doubt, Override } from './types.ts';

/** What every part of the store works with. The clock and the digest come in from outside. */
export interface Context {
  readonly db: Database;
  /** Device clock, ms since 1970. */
  readonly now: () => number;
  /** `practised` of tests-engine/progress; handed in so that the store knows its types only. */
  readonly digest: (facts: AttemptFacts) => Practised;
  /**
   * Whether an attempt of a homework can be what it says, from the notes and the tests that were set (null: this
   * machine did not set it). Handed in, as it needs the marking rule.
   */
  readonly doubt: (attempt: Attempt, set: readonly Task[] | null) => Doubt | null;
  /** Has what is in no block yet packed, when there is time; never throws. */
  readonly packSoon: () => void;
  /** Random id of this tab. */
  readonly tab: string;
}

/** When the record was made: told apart by it from one that the browser removed. */
export const BORN = 'bornMs';
/** Where the place of the last attempt or override is kept, in `meta`. */
export const LAST_ORDER = 'lastOrder';

/** Takes the next place in the order. Only inside a transaction that can write `meta`. */
export async function takeOrder({ db, now }: Context): Promise<number> {
  const order = nextOrder((await db.meta.get(LAST_ORDER))?.value ?? 0, now());
  await db.meta.put({ key: LAST_ORDER, value: order });
  return order;
}

/** Orders that came in from elsewhere push ours on, unless a broken clock made them absurd (a year ahead). */
export async function noteOrders({ db, now }: Context, orders: readonly number[]): Promise<void> {
  const limit = now() + 366 * 86_400_000;
  const known = (await db.meta.get(LAST_ORDER))?.value ?? 0;
  const highest = orders.reduce((max, order) => (order <= limit && order > max ? order : max), known);
  if (highest > known) await db.meta.put({ key: LAST_ORDER, value: highest });
}

/** Why an attempt is not counted; null where it is: only what came in as homework can be doubted. */
export async function doubtOf({ db, doubt }: Context, attempt: Attempt): Promise<Doubt | null> {
  if (attempt.homeworkId === null) return null;
  const homework = await db.homework.get(attempt.homeworkId);
  if (!homework?.sitting) return doubt(attempt, homework?.tests ?? null);
  // What a sitting asks is made when it is sat: of its takes only the mark can be looked into.
  const sat = await db.sittings
    .where('[studentId+atMs]')
    .between([attempt.studentId, 0], [attempt.studentId, Infinity])
    .toArray();
  const isOfIt = sat.some(({ run }) => run.setup.id === homework.id && playedIn(run).includes(attempt.id));
  return doubt(attempt, isOfIt ? null : homework.tests);
}

/**
 * Writes the digest of an attempt as it now counts; what is in doubt has none, unless a teacher has marked it.
 * Only inside a transaction on `overrides`, `homework`, `sittings`, `digests`.
 */
export const putDigest = (
  context: Context,
  attempt: Attempt,
  overrides: readonly Override[],
): Promise<void> => putDigests(context, [{ attempt, overrides }]);

/**
 * The same for many, written together: one by one each waits for the disk's thread. What is not asked of the database is
 * not awaited: after a hundred such in a row Dexie takes its transaction for lost.
 */
export async function putDigests(
  context: Context,
  all: readonly { readonly attempt: Attempt; readonly overrides: readonly Override[] }[],
): Promise<void> {
  const [digests, none]: [DigestRow[], string[]] = [[], []];
  for (const { attempt, overrides } of all) {
    const doubtful = attempt.homeworkId !== null && (newestOverride(overrides)?.mark ?? null) === null;
    if (doubtful && (await doubtOf(context, attempt)) !== null) none.push(attempt.id);
    else digests.push(digestOf(context, attempt, overrides));
  }
  await context.db.digests.bulkPut(digests);
  await context.db.digests.bulkDelete(none);
}

function digestOf({ digest }: Context, attempt: Attempt, overrides: readonly Override[]): DigestRow {
  const mark: AnyMark = effectiveMark(attempt, overrides);
  const { id: attemptId, studentId, order, atMs, test, manner, answer, take } = attempt;
  const right = answer !== null && 'question' in test ? isRight(test, answer) : null;
  const question = right === null || answer === null ? null : { form: formOf(answer), right };
  return {
    attemptId,
    studentId,
    order,
    atMs,
    digest: digest({ id: attemptId, atMs, order, test, manner, mark, take, question }),
  };
}
