import { describe, expect, it } from 'vitest';
import type { Attempt } from '../../../src/store/index.ts';
import { asSounded, makeTest, type SheetOptions } from '../../../src/tests-engine/index.ts';
import { attemptsAt, bestWay, leftOf } from '../../../src/ui/record/homework.svelte.ts';
import { sampleAttempt } from '../../store/support/sample.ts';
import { ID } from './support.ts';

const tests = [1, 2].map((seed) => makeTest({ kind: 'melody', level: 8, seed, instrument: 'guitar' }));
const set = tests[0]!;
const sample = sampleAttempt(ID(1), 2);
const taken = (options: SheetOptions, manner: Attempt['manner'], mark: number | null = 80): Attempt => ({
  ...sample,
  ...{ id: ID(2), atMs: 1, order: 1, manner },
  test: asSounded(set, options),
  mark: { ...sample.mark, mark } as Attempt['mark'],
});

describe('an item of a homework', () => {
  it('is done by a take at another tempo or of a half, and says so', () => {
    const attempts = [taken({ tempoFactor: 0.5, half: 'second' }, 'relaxed')];
    expect(leftOf({ tests }, attempts)).toEqual([1]);
    expect(bestWay(set, attempts)).toEqual({ manner: 'relaxed', half: 'second', tempoFactor: 0.5 });
  });
  it('is told by its best take: strict before relaxed, whole before a half, fastest first', () => {
    const attempts = [
      taken({ half: 'first' }, 'relaxed'),
      taken({ tempoFactor: 0.5 }, 'relaxed'),
      taken({ tempoFactor: 0.75 }, 'relaxed'),
    ];
    expect(bestWay(set, attempts)).toEqual({ manner: 'relaxed', half: null, tempoFactor: 0.75 });
    expect(bestWay(set, [...attempts, taken({}, 'strict')])).toEqual({
      manner: 'strict',
      half: null,
      tempoFactor: 1,
    });
  });
  it('is not done by a take without a mark, nor by another test', () => {
    const unmarked = [taken({}, 'strict', null)];
    expect([leftOf({ tests }, unmarked), bestWay(set, unmarked)]).toEqual([[0, 1], null]);
    expect(attemptsAt({ tests }, unmarked, 1)).toEqual([]);
  });
});
