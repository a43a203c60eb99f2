import * as v from 'valibot';
import { instant } from '../../music/schema/index.ts';
import type { Json } from '../../store/index.ts';
import { record } from './record.svelte.ts';

/** A test that a teacher wants to hear again. */
export interface Again {
  readonly attemptId: string;
  readonly studentId: string;
  /** From when on it is due, ms since 1970. */
  readonly dueAtMs: number;
}

const KEY = 'again';
export const WEEK_MS = 7 * 86_400_000;

/** Reads the list as it was kept, value by value; what is none of ours is left out. */
export function checkedAgain(value: Json | null): Again[] {
  if (!Array.isArray(value)) return [];
  return value.flatMap((one: unknown) => {
    const { attemptId, studentId, dueAtMs } = (one ?? {}) as Record<string, unknown>;
    return typeof attemptId === 'string' && typeof studentId === 'string' && v.is(instant, dueAtMs)
      ? [{ attemptId, studentId, dueAtMs }]
      : [];
  });
}

/** The tests to hear again, soonest first; of one student, or of all. */
export async function againOf(studentId: string | null = null): Promise<readonly Again[]> {
  const kept = await record.use((store) => store.settings.get(KEY));
  return checkedAgain(kept ?? null)
    .filter((one) => studentId === null || one.studentId === studentId)
    .sort((a, b) => a.dueAtMs - b.dueAtMs);
}

async function write(change: (now: readonly Again[]) => readonly Again[]): Promise<boolean> {
  const done = await record.use(async (store) => {
    const now = checkedAgain((await store.settings.get(KEY)) ?? null);
    await store.settings.set(
      KEY,
      change(now).map((one) => ({ ...one })),
    );
    return true;
  });
  return done === true;
}

/** From a week on this attempt's test is asked for again. */
export const askAgain = (again: Again): Promise<boolean> =>
  write((now) => [...now.filter(({ attemptId }) => attemptId !== again.attemptId), again]);
/** It was heard, or is no longer wanted. */
export const noMore = (attemptId: string): Promise<boolean> =>
  write((now) => now.filter((one) => one.attemptId !== attemptId));
