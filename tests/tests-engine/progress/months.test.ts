import { describe, expect, it } from 'vitest';
import { changes, hardest, monthFacts } from '../../../src/tests-engine/index.ts';
import { monthOf, monthsIn } from '../../../src/ui/record/days.ts';
import type { MonthFacts, PartCount, Practised } from '../../../src/tests-engine/index.ts';

const at = (year: number, month: number, day: number): number => new Date(year, month - 1, day, 12).getTime();
const attempt = (atMs: number, some: Partial<Practised> = {}): Practised => ({
  ...{ id: String(atMs), atMs, order: atMs, kind: 'melody', level: 3, manner: 'strict', mark: 80 },
  ...{ outcome: 'close', biasMs: null, unevennessMs: null, pitch: [], time: [] },
  ...some,
});

describe('a month', () => {
  it('is the local calendar’s, its first and last day included, and no other month’s', () => {
    const record = [
      attempt(new Date(2026, 9, 31, 23, 59).getTime()),
      attempt(new Date(2026, 10, 1, 0, 0).getTime(), { mark: 60, manner: 'relaxed', outcome: 'there' }),
      attempt(new Date(2026, 10, 30, 23, 59).getTime(), { mark: 90, level: 5, outcome: 'there' }),
      attempt(at(2026, 12, 1)),
    ];
    expect(monthsIn(record)).toEqual(['2026-12', '2026-11', '2026-10']);
    expect(monthFacts(record.filter((one) => monthOf(one.atMs) === '2026-11'))).toMatchObject({
      ...{ tests: 2, strict: 1, there: 2, median: 90, levels: [3, 5] },
    });
    expect(monthOf(record[0]!.atMs)).toBe('2026-10');
  });
  it('without a marked test has no middle mark, with own phrases alone no level', () => {
    const record = [attempt(at(2026, 5, 5), { mark: null, outcome: null, level: null })];
    expect(monthFacts(record)).toMatchObject({ tests: 1, median: null, levels: null, parts: [] });
    expect(monthFacts([])).toMatchObject({ tests: 0, median: null });
  });
});

describe('two months', () => {
  const facts = (...parts: [PartCount['part'], number, number][]): MonthFacts => ({
    ...{ tests: 9, strict: 9, there: 5, median: 80, levels: [3, 3] },
    parts: parts.map(([part, right, seen]) => ({ part, channel: 'pitch', right, seen })),
  });
  it('name what changed by more than chance, the largest first, and nothing of few notes', () => {
    const { better, worse } = changes(
      facts(
        ['third-up', 8, 20],
        ['fourth-up', 4, 20],
        ['step-up', 18, 20],
        ['turn', 1, 7],
        ['repeat', 10, 20],
      ),
      facts(
        ['third-up', 18, 20],
        ['fourth-up', 19, 20],
        ['step-up', 9, 20],
        ['turn', 20, 20],
        ['repeat', 12, 20],
      ),
    );
    expect(better.map(({ part }) => part)).toEqual(['fourth-up', 'third-up']);
    expect(worse.map(({ part }) => part)).toEqual(['step-up']);
  });
  it('of a student who has not changed name a part in at most one of ten pairs', () => {
    // 400 pairs of months with 12 parts of 30 notes each, three of four right in both.
    let seed = 9;
    const next = (): number => (seed = (seed * 16807) % 2147483647) / 2147483647;
    const month = (): MonthFacts =>
      facts(
        ...(['repeat', 'turn', 'third-up', 'third-down', 'step-up', 'step-down'] as const).map(
          (part) =>
            [part, Array.from({ length: 30 }, next).filter((x) => x < 0.75).length, 30] as [
              typeof part,
              number,
              number,
            ],
        ),
      );
    let named = 0;
    for (let i = 0; i < 400; i++) {
      const { better, worse } = changes(month(), month());
      named += better.length + worse.length;
    }
    // Six parts a pair at 3 % each would be 72.
    expect(named).toBeLessThan(100);
    expect(named).toBeGreaterThan(10);
  });
  it('say what to work on: the least often right, never what was always right', () => {
    expect(
      hardest(facts(['third-up', 8, 20], ['turn', 1, 7], ['repeat', 20, 20], ['step-up', 18, 20])).map(
        ({ part }) => part,
      ),
    ).toEqual(['third-up', 'step-up']);
  });
});
