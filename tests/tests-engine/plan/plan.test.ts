import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  defaultSetup,
  estimateUnit,
  evidenceFrom,
  LEAST_TAKES,
  planDays,
  planUnits,
  sittingMinutes,
  standardTuning,
  type Evidence,
  type PlanDay,
  type PlanRequest,
  type Practised,
  type Unit,
} from '../../../src/tests-engine/index.ts';

const DAY = 86_400_000;
const NOW = Date.UTC(2027, 0, 4);
const setup = defaultSetup({
  ...{ level: 3, instrument: 'guitar', tuning: standardTuning('guitar').strings },
  ...{ id: '0'.repeat(32), name: 'Mock' },
});
const units = planUnits(setup);
const melody = units.find(({ what }) => what === 'melody')!;
const takes = (what: Unit['what'], marks: readonly (number | null)[], daysAgo = 1): Evidence[] =>
  marks.map((mark, i) => ({
    what,
    level: 3,
    mark,
    atMs: NOW - daysAgo * DAY - (marks.length - i) * 3_600_000,
  }));
const chance = (marks: readonly number[], unit = melody): number => {
  const estimate = estimateUnit(unit, takes(unit.what, marks), NOW, 85);
  if (estimate.is !== 'known') throw new Error(`nothing known: ${estimate.is}`);
  return estimate.chance;
};

describe('an estimate of a station', () => {
  it('says how many takes are wanted where too little is known, and nothing of what is told in words', () => {
    expect(estimateUnit(melody, [], NOW, 85)).toEqual({ is: 'unknown', more: LEAST_TAKES });
    expect(estimateUnit(melody, takes('melody', [80, 90]), NOW, 85)).toEqual({
      is: 'unknown',
      more: LEAST_TAKES - 2,
    });
    // A take that was not marked, and takes of half a year ago, are no knowledge.
    expect(estimateUnit(melody, takes('melody', [null, null, null, null, null]), NOW, 85).is).toBe('unknown');
    expect(estimateUnit(melody, takes('melody', [90, 90, 90, 90, 90], 180), NOW, 85).is).toBe('unknown');
    const improvising = units.find(({ what }) => what === 'improvising')!;
    expect(estimateUnit(improvising, takes('improvising', [90, 90, 90, 90, 90]), NOW, 85).is).toBe(
      'unmarked',
    );
  });
  it('lies within its limits, which draw together with every take', () => {
    let width = Infinity;
    for (const count of [4, 8, 16, 32]) {
      const estimate = estimateUnit(melody, takes('melody', Array<number>(count).fill(82)), NOW, 85);
      if (estimate.is !== 'known') throw new Error('unknown');
      expect(estimate.low).toBeLessThanOrEqual(estimate.chance);
      expect(estimate.high).toBeGreaterThanOrEqual(estimate.chance);
      expect(estimate.high - estimate.low).toBeLessThan(width);
      width = estimate.high - estimate.low;
    }
  });
  it('foretells by outcomes, where marks have few steps: four strokes that are seldom all right are seldom "there"', () => {
    // Half of the takes have all four; the mean of their marks is 87.
    const marks = Array.from({ length: 24 }, (_, i) => (i % 2 ? 100 : 75));
    expect(chance(marks)).toBeGreaterThan(0.35);
    expect(chance(marks)).toBeLessThan(0.65);
    // Marks by degrees about 87 reach 85 oftener than not.
    const fine = Array.from({ length: 24 }, (_, i) => 84 + (i % 7));
    expect(chance(fine)).toBeGreaterThan(0.55);
    // A few good takes foretell no certainty.
    expect(chance([100, 100, 100, 100])).toBeLessThan(0.9);
  });
  it('rises with marks that are all better, falls with the level asked, and with what counts as there', () => {
    // Marks of one player about a middle. Wilder ones may fall on few steps by accident: see the README's limits.
    const scattered = fc
      .integer({ min: 20, max: 70 })
      .chain((middle) =>
        fc.array(fc.integer({ min: middle - 20, max: middle + 20 }), { minLength: 4, maxLength: 20 }),
      );
    fc.assert(
      fc.property(scattered, (marks) => {
        const better = marks.map((mark) => Math.min(100, mark + 10));
        // The scatter is learnt too: at chances next to none it may tell a little less.
        expect(chance(better)).toBeGreaterThanOrEqual(chance(marks) - 0.02);
      }),
      { numRuns: 60 },
    );
    const evidence = takes('melody', [80, 85, 90, 80, 85, 90]);
    const at = (level: number, there: number): number => {
      const estimate = estimateUnit({ ...melody, level }, evidence, NOW, there);
      return estimate.is === 'known' ? estimate.chance : NaN;
    };
    expect(at(4, 85)).toBeLessThan(at(3, 85));
    expect(at(3, 95)).toBeLessThan(at(3, 85));
    expect(at(3, 65)).toBeGreaterThan(at(3, 85));
  });
  it('leaves out takes with help and those of levels far away, and counts a wrong answer as under there', () => {
    const digest = (some: Partial<Practised>): Practised => ({
      ...{ id: 'a', atMs: NOW - DAY, order: 1, kind: 'rhythm', level: 3, manner: 'strict', mark: 95 },
      ...{ outcome: 'there', biasMs: null, unevennessMs: null, pitch: [], time: [] },
      ...some,
    });
    const evidence = evidenceFrom(
      [digest({}), digest({ manner: 'relaxed' }), digest({ outcome: 'close' })],
      [],
      85,
    );
    expect(evidence.map(({ mark }) => mark)).toEqual([95, 84]);
    const far = takes('melody', [90, 90, 90, 90, 90]).map((one) => ({ ...one, level: 7 }));
    expect(estimateUnit(melody, far, NOW, 85).is).toBe('unknown');
  });
});

const request = (some: Partial<PlanRequest> = {}): PlanRequest => ({
  ...{ setup, units, evidence: [], sittingsAtMs: [], nowMs: NOW, todayMs: NOW, todayWeekday: 0 },
  ...{ examAhead: 28, weekdays: [0, 1, 2, 3, 4], minutes: 30, there: 85 },
  ...some,
});

describe('a plan', () => {
  const evidenceArb = fc.array(
    fc.record({
      what: fc.constantFrom(...units.map(({ what }) => what)),
      level: fc.constant(3),
      mark: fc.option(fc.integer({ min: 0, max: 100 })),
      atMs: fc.integer({ min: NOW - 60 * DAY, max: NOW }),
    }),
    { maxLength: 40 },
  );
  it('lists only days of practice before the exam, never more minutes than there are, each thing once a day, none for less than a stint', () => {
    fc.assert(
      fc.property(
        evidenceArb,
        fc.integer({ min: 0, max: 60 }),
        fc.integer({ min: 5, max: 120 }),
        fc.uniqueArray(fc.integer({ min: 0, max: 6 })),
        fc.integer({ min: 0, max: 6 }),
        (evidence, examAhead, minutes, weekdays, todayWeekday) => {
          const sorted = [...evidence].sort((a, b) => a.atMs - b.atMs);
          const days = planDays(request({ evidence: sorted, examAhead, minutes, weekdays, todayWeekday }));
          for (const { ahead, items, mockMinutes } of days) {
            expect(ahead).toBeLessThan(examAhead);
            expect(weekdays).toContain((todayWeekday + ahead) % 7);
            const own = items.reduce((sum, item) => sum + item.minutes, 0);
            expect(own).toBeLessThanOrEqual(
              mockMinutes === null ? minutes : Math.max(0, minutes - mockMinutes),
            );
            expect(new Set(items.map(({ unit }) => unit)).size).toBe(items.length);
            for (const item of items) {
              expect(Number.isInteger(item.minutes)).toBe(true);
              expect(item.minutes).toBeGreaterThanOrEqual(3);
            }
            // None is left over, but on the eve.
            if (mockMinutes === null && examAhead - ahead > 1) expect(own).toBe(minutes);
            if (mockMinutes === null) expect(items.length).toBeGreaterThan(0);
          }
        },
      ),
      { numRuns: 80 },
    );
  });
  it('tries everything that was never tried within the first week, and says so', () => {
    const week = planDays(request()).filter(({ ahead }) => ahead < 7);
    const tried = new Set(week.flatMap(({ items }) => items.map(({ unit }) => unit.what)));
    expect([...tried].sort()).toEqual([...new Set(units.map(({ what }) => what))].sort());
    expect(week[0]!.items.every(({ why }) => why === 'new')).toBe(true);
  });
  const others = (
    marks: readonly number[],
  ): { minutesOf: (what: Unit['what']) => number; days: PlanDay[] } => {
    const evidence = units.flatMap(({ what }) =>
      takes(what, what === 'rhythm' ? marks : [97, 98, 96, 99, 98, 97]),
    );
    const days = planDays(request({ evidence }));
    const all = days.flatMap(({ items }) => items);
    return {
      days,
      minutesOf: (what) => all.reduce((sum, item) => sum + (item.unit.what === what ? item.minutes : 0), 0),
    };
  };
  it('gives what goes wrong more minutes than what goes well, most where most can be won, and forgets nothing', () => {
    const far = others([40, 35, 45, 40, 50, 45]);
    const near = others([70, 65, 75, 70, 80, 75]);
    for (const { what } of units)
      if (what !== 'rhythm' && what !== 'improvising') {
        expect(near.minutesOf('rhythm'), what).toBeGreaterThan(2 * near.minutesOf(what));
        expect(far.minutesOf('rhythm'), what).toBeGreaterThan(far.minutesOf(what));
        // By itself or in a whole sitting, at least once in a week and a half.
        for (const { days } of [far, near]) {
          const met = days.filter(
            (day) => day.mockMinutes !== null || day.items.some(({ unit }) => unit.what === what),
          );
          const gaps = [0, ...met.map(({ ahead }) => ahead), 28];
          for (const [i, ahead] of gaps.entries())
            if (i > 0) expect(ahead - gaps[i - 1]!, what).toBeLessThan(12);
        }
      }
    expect(near.minutesOf('rhythm')).toBeGreaterThan(far.minutesOf('rhythm'));
    expect(far.days[0]!.items.find(({ unit }) => unit.what === 'rhythm')?.why).toBe('weak');
  });
  const SEVEN = planUnits(
    defaultSetup({
      ...{ level: 3, instrument: 'guitar', tuning: standardTuning('guitar').strings },
      ...{ id: '0'.repeat(32), name: 'Mock', pieces: [{ trackId: 'a'.repeat(32), title: 'One' }] },
    }),
  ).filter(({ what }) => what !== 'improvising');
  it('lets no station of seven wait for a day where half an hour can be had, and gives the weak the longer stints', () => {
    const week: PlanDay['items'][] = [];
    const evidence: Evidence[] = [];
    for (let day = 0; day < 7; day++) {
      const nowMs = NOW + day * DAY;
      const [today] = planDays(
        request({
          ...{ units: SEVEN, evidence, nowMs, todayMs: nowMs, todayWeekday: day },
          ...{ weekdays: [0, 1, 2, 3, 4, 5, 6], examAhead: 28 - day, sittingsAtMs: [NOW - DAY] },
        }),
      );
      week.push(today!.items);
      for (const { unit, minutes } of today!.items)
        for (let k = 0; k < Math.max(1, Math.round(minutes / 4)); k++)
          evidence.push({
            ...{ what: unit.what, level: 3, mark: unit.what === 'rhythm' ? 70 + 5 * (k % 3) : 97 },
            atMs: nowMs + 3_600_000,
          });
    }
    for (const items of week.slice(0, 6)) {
      expect(items.map(({ unit }) => unit.what).sort()).toEqual(SEVEN.map(({ what }) => what).sort());
      expect(Math.min(...items.map(({ minutes }) => minutes))).toBe(3);
    }
    for (const { unit, minutes } of week[5]!)
      if (unit.what !== 'rhythm')
        expect(minutes, unit.what).toBeLessThan(week[5]!.find((one) => one.unit.what === 'rhythm')!.minutes);
  });
  it('says that most is to be won only of what has more than one stint, unless none has', () => {
    const evidence = SEVEN.flatMap(({ what }, i) =>
      takes(
        what,
        Array.from({ length: 8 }, (_, k) => 50 + 4 * i + k),
      ),
    );
    const on = (minutes: number): PlanDay['items'] =>
      planDays(request({ units: SEVEN, evidence, minutes }))[0]!.items;
    const half = on(30);
    expect(new Set(half.map(({ why }) => why))).toEqual(new Set(['weak', 'some']));
    for (const { why, minutes } of half) expect(why).toBe(minutes >= 6 ? 'weak' : 'some');
    expect(on(10).map(({ why }) => why)).toEqual(['weak', 'weak', 'weak']);
  });
  it('takes turns where a day is too short for all, and leaves none out for longer than three days', () => {
    const days = planDays(
      request({ units: SEVEN, minutes: 10, weekdays: [0, 1, 2, 3, 4, 5, 6], sittingsAtMs: [NOW - DAY] }),
    );
    expect(days[0]!.items).toHaveLength(3);
    for (const { what } of SEVEN) {
      const met = days.filter(
        (day) => day.mockMinutes !== null || day.items.some(({ unit }) => unit.what === what),
      );
      for (const [i, { ahead }] of met.entries())
        if (i > 0) expect(ahead - met[i - 1]!.ahead, what).toBeLessThanOrEqual(4);
    }
  });
  it('has longer stints on a longer day, not more of them', () => {
    for (const minutes of [60, 120, 300])
      for (const { items, mockMinutes, ahead } of planDays(request({ minutes })))
        if (mockMinutes === null && ahead < 27)
          for (const item of items) expect(item.minutes).toBeGreaterThanOrEqual(minutes / 10);
  });
  it('lists things in the order in which they are best played', () => {
    const order = ['scales', 'chords', 'pieces', 'reading', 'improvising', 'rhythm', 'melody', 'questions'];
    for (const { items } of others([70, 65, 75, 70, 80, 75]).days) {
      const places = items.map(({ unit }) => order.indexOf(unit.what));
      expect(places).toEqual([...places].sort((a, b) => a - b));
    }
  });
  it('flows on when days are missed: what was not played is wanted the more, and nothing is lost', () => {
    const evidence = takes('melody', [80, 85, 80, 85, 80]);
    const missed = planDays(
      request({ evidence, nowMs: NOW + 3 * DAY, todayMs: NOW + 3 * DAY, todayWeekday: 3, examAhead: 25 }),
    );
    const kept = planDays(request({ evidence }));
    expect(missed[0]!.ahead).toBe(0);
    expect(missed[0]!.items.map(({ unit }) => unit.what)).toEqual(
      kept[0]!.items.map(({ unit }) => unit.what),
    );
  });
  it('has a whole sitting about once a week, the last one three days or more before the exam, none on the eve', () => {
    const mocks = planDays(request({ weekdays: [0, 1, 2, 3, 4, 5, 6] })).flatMap(({ ahead, mockMinutes }) =>
      mockMinutes === null ? [] : [ahead],
    );
    expect(mocks.length).toBeGreaterThanOrEqual(3);
    expect(28 - mocks.at(-1)!).toBe(3);
    for (const [i, ahead] of mocks.entries())
      if (i > 0) expect(ahead - mocks[i - 1]!).toBeGreaterThanOrEqual(2);
    // One that was sat yesterday is none for today.
    const after = planDays(request({ sittingsAtMs: [NOW - DAY], weekdays: [0, 1, 2, 3, 4, 5, 6] }));
    expect(after.findIndex(({ mockMinutes }) => mockMinutes !== null)).toBeGreaterThanOrEqual(5);
  });
  it('weighs by the teacher’s weights where there are any', () => {
    const heavy = units.map((unit) => ({ ...unit, weight: unit.what === 'reading' ? 80 : 10 }));
    const of = (all: readonly Unit[]): number =>
      planDays(request({ units: all }))
        .flatMap(({ items }) => items)
        .reduce((sum, item) => sum + (item.unit.what === 'reading' ? item.minutes : 0), 0);
    expect(of(heavy)).toBeGreaterThan(1.3 * of(units));
  });
  it('is empty on the day of the exam and after it, and refuses minutes that are none', () => {
    expect(planDays(request({ examAhead: 0 }))).toEqual([]);
    expect(planDays(request({ examAhead: -3 }))).toEqual([]);
    expect(() => planDays(request({ minutes: 0 }))).toThrow(/minutes a day must be 5…300, got 0/);
  });
  it('holds a sitting of ours for less than an hour', () => {
    expect(sittingMinutes(setup)).toBeGreaterThan(5);
    expect(sittingMinutes(setup)).toBeLessThan(60);
  });
});
