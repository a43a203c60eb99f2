import { describe, expect, it } from 'vitest';
import { DEFAULT_THRESHOLDS } from '../../../src/music/outcome.ts';
import type { Played, SittingRun, SittingSetup, Station } from '../../../src/music/sitting.ts';
import {
  compareMarks,
  reportOf,
  sit,
  standardTuning,
  startSitting,
  stationKey,
} from '../../../src/tests-engine/index.ts';

const ID = '0'.repeat(32);
const played = (mark: number | null, some: Partial<Played> = {}): Played => ({
  ...{ kind: 'melody', attemptId: null, mark, outcome: null, right: null, own: null },
  ...some,
});
const ear = (what: 'melody' | 'rhythm', weight = 0, count = 1): Station => ({
  what,
  weight,
  level: 1,
  count,
});

/** A sitting of these stations, in which this was played. */
function sat(stations: readonly Station[], all: readonly (readonly Played[])[]): SittingRun {
  const setup: SittingSetup = {
    ...{ version: 1, id: ID, name: 'Mock', instrument: 'guitar', tuning: standardTuning('guitar').strings },
    stations,
  };
  let run = startSitting(setup, { id: ID, seed: 1, atMs: 0 });
  for (const each of all)
    for (const one of each) run = sit(sit(run, { type: 'goOn' }, 1), { type: 'done', played: one }, 2);
  return run;
}
const report = (run: SittingRun, counted?: Parameters<typeof reportOf>[2]) =>
  reportOf(run, DEFAULT_THRESHOLDS, counted);

describe('the report of a sitting', () => {
  it('takes the mean of a station’s marks, the teacher’s override before the machine’s and the examiner’s own before both', () => {
    const attemptId = 'a'.repeat(32);
    const stations = [ear('melody', 0, 2), ear('rhythm')];
    const run = sat(stations, [[played(60, { attemptId }), played(80)], [played(90)]]);
    expect(report(run).stations.map(({ mark }) => mark)).toEqual([70, 90]);
    const counted = new Map([[attemptId, { mark: 100, outcome: 'there' as const }]]);
    expect(report(run, counted).stations[0]).toMatchObject({ mark: 90, outcome: 'there', byExaminer: false });
    const own = sit(run, { type: 'own', station: 0, item: 0, mark: 40 }, 3);
    expect(report(own, counted).stations[0]).toMatchObject({
      mark: 60,
      outcome: 'not-yet',
      byExaminer: true,
    });
  });
  it('names the strongest and what to practise first, by the weights where there are any, and no total without them', () => {
    const run = sat(
      [ear('melody'), ear('rhythm'), ear('melody')],
      [[played(95)], [played(50)], [played(70)]],
    );
    expect(report(run)).toMatchObject({ strongest: 0, first: { at: 1, why: 'furthest' }, total: null });
    const weighed = sat(
      [ear('melody', 10), ear('rhythm', 10), ear('melody', 80)],
      [[played(95)], [played(50)], [played(70)]],
    );
    expect(report(weighed)).toMatchObject({ first: { at: 2, why: 'weight' } });
    expect(report(weighed).total).toEqual({ mark: 0.1 * 95 + 0.1 * 50 + 0.8 * 70, missing: 0 });
  });
  it('names the one with the least to spare where all came off, and neither it nor a strongest where the marks are no further apart than a mark is sure', () => {
    const run = sat([ear('melody'), ear('rhythm')], [[played(98)], [played(88)]]);
    expect(report(run)).toMatchObject({ strongest: 0, first: { at: 1, why: 'least-spare' } });
    const even = sat([ear('melody'), ear('rhythm')], [[played(92)], [played(90)]]);
    expect(report(even)).toMatchObject({ strongest: null, first: { why: 'even' } });
  });
  it('leaves what was not marked out of the total and says so; a take that was told has no mark, never nought', () => {
    const run = sat(
      [ear('melody', 50), ear('rhythm', 50)],
      [[played(null, { kind: 'improvising' })], [played(80)]],
    );
    expect(report(run).stations[0]!.mark).toBeNull();
    expect(report(run).total).toEqual({ mark: 80, missing: 1 });
    const nothing = sat([ear('melody', 50)], []);
    expect(report(nothing)).toMatchObject({ strongest: null, first: null, total: null });
  });
  it('does not call a rhythm got whose question was answered wrongly', () => {
    const run = sat([ear('rhythm')], [[played(97, { kind: 'rhythm', outcome: 'close' })]]);
    expect(report(run).stations[0]).toMatchObject({ mark: 97, outcome: 'close' });
  });
});

describe('a mark beside those of earlier sittings', () => {
  it('is told as better or worse only where the change is more than chance', () => {
    expect(compareMarks(80, [])).toBeNull();
    expect(compareMarks(80, [75])).toMatchObject({ by: 5, earlier: 1, verdict: 'not-told' });
    expect(compareMarks(95, [50, 52, 51])).toMatchObject({ verdict: 'better' });
    expect(compareMarks(50, [95, 93, 94])).toMatchObject({ verdict: 'worse' });
  });
  it('draws its limits together with more sittings, and apart with marks that scatter', () => {
    const wide = (marks: readonly number[]): number => {
      const { low, high } = compareMarks(80, marks)!;
      return high - low;
    };
    expect(wide([70, 70, 70, 70, 70, 70])).toBeLessThan(wide([70]));
    expect(wide([30, 95, 40, 90, 35, 99])).toBeGreaterThan(wide([68, 70, 69, 71, 70, 69]));
  });
  it('is compared with the same station at the same level alone, and reading never with improvising', () => {
    const unseen: Station = {
      ...{ what: 'unseen', weight: 0, offers: 'both', shows: 'staff', click: false, plays: 'line' },
      ...{ readingLevel: 2, readingSec: 90, improvisingLevel: 2, improvisingSec: 30 },
    };
    expect(stationKey(unseen, 'reading')).not.toBe(stationKey(unseen, 'improvising'));
    expect(stationKey(ear('melody'), null)).toBe(stationKey(ear('melody', 50, 3), null));
    expect(stationKey({ ...ear('melody'), level: 2 } as Station, null)).not.toBe(
      stationKey(ear('melody'), null),
    );
  });
});
