import type { Homework, Store, Student } from '../../store/index.ts';
import { weekdayOf } from './days.ts';
import { leftOf } from './homework.svelte.ts';

/** How the desk is sorted. */
export const DESK_ORDERS = ['name', 'lesson', 'last'] as const;
export type DeskOrder = (typeof DESK_ORDERS)[number];

/** The newest homework of a student, as the desk says it. */
export interface Owed {
  readonly homework: Homework;
  /** Tests of it that no marked attempt has come back of. */
  readonly left: number;
}

/** What every student owes, by student: the newest homework of each. */
export async function owedBy(store: Store, students: readonly Student[]): Promise<ReadonlyMap<string, Owed>> {
  const found = await Promise.all(
    students.map(async ({ id }) => {
      const [homework] = await store.students.homework(id);
      if (!homework) return [];
      const back = await store.attempts.ofHomework(homework.id);
      const sat = homework.sitting ? await store.sittings.ofHomework(homework.id) : [];
      return [[id, { homework, left: leftOf(homework, back, sat).length }] as const];
    }),
  );
  return new Map(found.flat());
}

/**
 * Students as the desk lists them. By lesson day: from today's weekday on round the week, then those without one; by
 * last practised: the latest first, then those who never did. Within that, as given (by name).
 */
export function sorted(
  students: readonly Student[],
  order: DeskOrder,
  lastAtMs: (student: Student) => number | null,
  today: Date,
): readonly Student[] {
  const first = weekdayOf(today);
  const place = (student: Student): number => {
    if (order === 'lesson') return student.lessonDay === null ? 7 : (student.lessonDay - first + 7) % 7;
    return order === 'last' ? -(lastAtMs(student) ?? -Infinity) : 0;
  };
  return [...students].sort((a, b) => (place(a) === place(b) ? 0 : place(a) - place(b)));
}

/** The groups there are, in the reader's alphabet; students without one are in none. */
export const groupsOf = (students: readonly Student[]): readonly string[] =>
  [...new Set(students.flatMap(({ group }) => (group ? [group] : [])))].sort((a, b) => a.localeCompare(b));
