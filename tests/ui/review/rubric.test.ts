import { describe, expect, it } from 'vitest';
import * as v from 'valibot';
import { tables } from '../../../src/store/schema/records.ts';
import { filled, readRubric, valueOf } from '../../../src/ui/review/rubric.ts';

const ID = '0123456789abcdef'.repeat(2);
const OVERRIDE = {
  ...{ id: ID, attemptId: ID, studentId: ID, atMs: 1, order: 1 },
  ...{ verdicts: [], mark: null, remark: '' },
};

describe('a teacher’s own lines', () => {
  it('takes numbers from 0 to 10, or any word', () => {
    expect(['0', '7,5', '10', ''].map((typed) => valueOf(typed, 'points'))).toEqual([0, 7.5, 10, null]);
    expect(['11', '-1', 'good'].map((typed) => valueOf(typed, 'points'))).toEqual(Array(3).fill(undefined));
    expect(valueOf(' warm ', 'words')).toBe('warm');
  });
  it('are three to six; anything else is not taken for them', () => {
    expect(readRubric({ lines: ['a', 'b', 'c'], how: 'points' })).toEqual({
      lines: ['a', 'b', 'c'],
      how: 'points',
    });
    for (const none of [
      null,
      4,
      { lines: ['a', 'b'], how: 'points' },
      { lines: ['a', 'b', 'c'], how: 'stars' },
    ])
      expect(readRubric(none)).toBeNull();
    expect(filled(['a', 'c'], [{ text: 'a', value: 3 }])).toEqual([
      { text: 'a', value: 3 },
      { text: 'c', value: null },
    ]);
  });
  it('are kept beside the attempt, and an override from before them still fits', () => {
    const fits = (value: unknown): boolean => v.safeParse(tables.overrides, value).success;
    const rubric = ['a', 'b', 'c'].map((text, i) => ({ text, value: [7, 'warm', null][i] }));
    expect(fits(OVERRIDE)).toBe(true);
    expect(fits({ ...OVERRIDE, rubric })).toBe(true);
    expect(fits({ ...OVERRIDE, rubric: rubric.slice(1) })).toBe(false);
    expect(fits({ ...OVERRIDE, rubric: rubric.map((line) => ({ ...line, value: 11 })) })).toBe(false);
  });
});
