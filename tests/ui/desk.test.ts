import { describe, expect, it } from 'vitest';
import type { Student } from '../../src/store/index.ts';
import { NO_CARD } from '../../src/store/schema/migrations.ts';
import { dayOf, nextLesson, weekdayOf } from '../../src/ui/record/days.ts';
import { groupsOf, sorted } from '../../src/ui/record/desk.ts';

const student = (name: string, more: Partial<Student> = {}): Student => ({
  ...{ id: name, name, instrument: 'guitar', createdAtMs: 0, thresholds: null },
  ...NO_CARD,
  ...more,
});
/** 28 November 2026 was a Saturday (ISO 8601 calendar; week 48, day 6). */
const SATURDAY = new Date(2026, 10, 28, 12);
const names = (list: readonly Student[]): string[] => list.map(({ name }) => name);

describe('the desk', () => {
  it('is sorted by the next lesson from today on round the week, those without a day last', () => {
    const all = [
      ...[student('a'), student('b', { lessonDay: 4 }), student('c', { lessonDay: 5 })],
      ...[student('d', { lessonDay: 0 }), student('e', { lessonDay: 5 })],
    ];
    expect(names(sorted(all, 'lesson', () => null, SATURDAY))).toEqual(['c', 'e', 'd', 'b', 'a']);
  });
  it('is sorted by who practised last, those who never did last, and by name as it was given', () => {
    const last: Readonly<Record<string, number>> = { a: 5, c: 9 };
    const all = ['a', 'b', 'c', 'd'].map((name) => student(name));
    const at = ({ name }: Student): number | null => last[name] ?? null;
    expect(names(sorted(all, 'last', at, SATURDAY))).toEqual(['c', 'a', 'b', 'd']);
    expect(names(sorted(all, 'name', at, SATURDAY))).toEqual(['a', 'b', 'c', 'd']);
  });
  it('knows its groups, each once', () => {
    expect(groupsOf([student('a', { group: 'Tue' }), student('b'), student('c', { group: 'Tue' })])).toEqual([
      'Tue',
    ]);
  });
});

describe('the calendar of lessons', () => {
  it('finds the next lesson after today, in a week where there is no day or it is today', () => {
    expect([weekdayOf(SATURDAY), dayOf(SATURDAY)]).toEqual([5, '2026-11-28']);
    expect([0, 4, 5, 6].map((day) => nextLesson(day, SATURDAY))).toEqual([
      ...['2026-11-30', '2026-12-04', '2026-12-05', '2026-11-29'],
    ]);
    expect(nextLesson(null, SATURDAY)).toBe('2026-12-05');
  });
});
