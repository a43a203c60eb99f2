import { describe, expect, it } from 'vitest';
import type { Attempt } from '../../../src/store/index.ts';
import type { Mark } from '../../../src/tests-engine/index.ts';
import { asSounded, makeTest } from '../../../src/tests-engine/index.ts';
import { doubt } from '../../../src/ui/record/doubt.ts';
import { markAgain } from '../../../src/ui/record/remark.ts';
import { sampleAttempt } from '../../store/support/sample.ts';

const ID = (n: number) => n.toString(16).padStart(32, '0');
/** An attempt as the app keeps it, marked by the present rule. */
function honest(n: number, change: Partial<Attempt> = {}): Attempt {
  const attempt: Attempt = {
    ...sampleAttempt(ID(1), n, ID(9)),
    ...{ id: ID(2), atMs: 1, order: 1 },
    ...change,
  };
  return JSON.parse(JSON.stringify({ ...attempt, mark: markAgain(attempt) })) as Attempt;
}
const setOf = (n: number) => [
  sampleAttempt(ID(1), n).test,
  makeTest({ kind: 'melody', level: 1, seed: 99, instrument: 'guitar' }),
];

describe('homework that was done', () => {
  it('is believed: forty takes of simulated students, strict and relaxed', () => {
    for (let n = 0; n < 40; n++) expect(doubt(honest(n), setOf(n)), `take ${n}`).toBeNull();
  });
  it('is believed where this machine did not set it', () => {
    expect(doubt(honest(3), null)).toBeNull();
  });
  it('is believed with help: slower, and by halves', () => {
    const set = makeTest({ kind: 'melody', level: 8, seed: 3, instrument: 'guitar' });
    for (const options of [
      { tempoFactor: 0.75 },
      { half: 'second' as const },
      { tempoFactor: 0.5, half: 'first' as const },
    ]) {
      const test = asSounded(set, options);
      expect(doubt(honest(2, { test, manner: 'relaxed' }), [set]), JSON.stringify(options)).toBeNull();
    }
  });
});

describe('a forged result', () => {
  it('of 100 without a note is not believed', () => {
    const attempt = honest(1);
    const nothing = { ...attempt.take, notes: [] };
    const forged = {
      ...attempt,
      take: nothing,
      mark: { ...attempt.mark, mark: 100, outcome: 'there', verdicts: [] },
    };
    expect(doubt(forged as Attempt, setOf(1))).toBe('other-mark');
  });
  it('of 100 without a note is not believed as one of an older rule either', () => {
    const attempt = honest(1);
    const nothing = { ...attempt.take, notes: [] };
    const forged = {
      ...attempt,
      take: nothing,
      mark: { ...attempt.mark, version: 1, mark: 100, verdicts: [] },
    };
    expect(doubt(forged as Attempt, setOf(1))).toBe('other-mark');
  });
  it.each<[string, (mark: Mark) => Partial<Mark>]>([
    ['a point more', ({ mark }) => ({ mark: mark! + (mark! > 50 ? -1 : 1) })],
    ['another outcome', ({ outcome }) => ({ outcome: outcome === 'there' ? 'close' : 'there' })],
    ['other verdicts', ({ verdicts }) => ({ verdicts: verdicts.map((one) => ({ ...one, kind: 'extra' })) })],
  ])('with %s is not believed', (_, change) => {
    const attempt = honest(4);
    const mark = { ...(attempt.mark as Mark), ...change(attempt.mark as Mark) };
    expect(doubt({ ...attempt, mark }, setOf(4))).toBe('other-mark');
  });
  it('of a test that was never set is not believed, nor a slower one said to be strict', () => {
    expect(doubt(honest(5), setOf(6))).toBe('not-set');
    const set = makeTest({ kind: 'melody', level: 8, seed: 3, instrument: 'guitar' });
    const test = asSounded(set, { tempoFactor: 0.5 });
    expect(doubt(honest(2, { test, manner: 'strict' }), [set])).toBe('not-set');
    expect(
      doubt(honest(2, { test: asSounded(set, { tempoFactor: 0.25 }), manner: 'relaxed' }), [set]),
    ).toBeNull();
    expect(doubt(honest(2, { test: { ...set, tempoBpm: 8 as never }, manner: 'relaxed' }), [set])).toBe(
      'not-set',
    );
  });
});
