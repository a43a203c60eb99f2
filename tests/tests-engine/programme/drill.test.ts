import { describe, expect, it } from 'vitest';
import * as v from 'valibot';
import {
  coming,
  DRILL_FIGURES,
  DRILL_INTERVALS,
  drillSchema,
  drillTest,
  FIRST_DRILL,
  makeTest,
  readStanding,
  shareOf,
  shareOfFigure,
  standardTuning,
  type Drill,
} from '../../../src/tests-engine/index.ts';
import { practiceTest } from '../../../src/music/schema/test.ts';

const guitar = { instrument: 'guitar', tuning: standardTuning('guitar').strings } as const;
const bass = { instrument: 'bass', tuning: standardTuning('bass').strings } as const;
const drill = (some: Partial<Drill>): Drill => ({ ...FIRST_DRILL, ...some });
const seeds = [1, 2, 3, 4, 5, 6];

describe('a drill', () => {
  it('of intervals holds far more of them than the level’s own melodies', () => {
    for (const intervals of [[3, 4], [5], [2]]) {
      const mean = (all: number[]) => all.reduce((sum, one) => sum + one, 0) / all.length;
      const drilled = mean(
        seeds.map((seed) => shareOf(drillTest(drill({ intervals }), guitar, seed), intervals)),
      );
      const usual = mean(
        seeds.map((seed) => shareOf(makeTest({ kind: 'melody', level: 2, seed, ...guitar }), intervals)),
      );
      expect(drilled, String(intervals)).toBeGreaterThan(usual + 0.1);
    }
  });
  it('of one bar is one bar long, heard once, and answered at once', () => {
    for (const seed of seeds) {
      const test = drillTest(drill({ what: 'answer' }), bass, seed);
      expect([test.phrase.bars, test.procedure.hearings, test.procedure.practiceSec]).toEqual([1, 1, 0]);
      expect(test.phrase.notes.length).toBeGreaterThan(0);
    }
    expect(drillTest(drill({ what: 'answer', practiceSec: 10 }), bass, 1).procedure.practiceSec).toBe(10);
  });
  it.each(DRILL_FIGURES)(
    'of the figure %s is full of it, and still has a second rhythm to tell it from',
    (figure) => {
      for (const level of [2, 8])
        for (const seed of [1, 2, 3]) {
          const test = drillTest(drill({ what: 'figure', figure, level }), guitar, seed);
          expect(test.kind).toBe('rhythm');
          expect(test.question).not.toBeNull();
          expect(shareOfFigure(test, figure), `${level} ${seed}`).toBeGreaterThanOrEqual(0.25);
        }
    },
  );
  it('keeps tempo, backing, time and position that are asked for', () => {
    const asked = { tempoBpm: 70, style: 'reggae', practiceSec: 20, position: 'V' } as const;
    const test = drillTest(drill({ ...asked, level: 4 }), guitar, 9);
    expect([test.tempoBpm, test.style, test.procedure.practiceSec]).toEqual([70, 'reggae', 20]);
    // The fifth position reaches from the fourth to the ninth fret.
    for (const { fret } of test.phrase.notes) expect(fret >= 4 && fret <= 9, String(fret)).toBe(true);
  });
  it('gives tests that every door lets in, whatever is chosen, and the same for the same seed', () => {
    for (const what of ['intervals', 'answer', 'figure'] as const)
      for (const level of [1, 3, 6, 9])
        for (const player of [guitar, bass]) {
          const one = drill({ what, level, intervals: [DRILL_INTERVALS[level % 9]!] });
          const test = drillTest(one, player, level);
          expect(v.safeParse(practiceTest, test).issues, `${what} ${level}`).toBeUndefined();
          expect(test.level).toBeNull();
          expect(drillTest(one, player, level)).toEqual(test);
        }
  });
  it('is followed by another of its kind, also on the next day', () => {
    const programme = { from: 'drill', drill: drill({ what: 'answer' }), ...guitar } as const;
    const next = coming(programme, null, () => 77);
    expect(next).toMatchObject({ do: 'begin', programme });
    const task = drillTest(programme.drill, guitar, 3);
    const standing = { programme, task, manner: 'relaxed', done: false } as const;
    expect(readStanding(JSON.parse(JSON.stringify(standing)))).toEqual(standing);
    expect(v.safeParse(drillSchema, drill({ intervals: [] as never })).success).toBe(false);
  });
});
