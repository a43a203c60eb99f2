import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bestMatching } from './fixtures/matching.ts';
import { addTallies, f1, tally, timing } from './fixtures/note-metrics.ts';

interface Case {
  readonly truth: [number, number][];
  readonly heard: [number, number][];
  readonly hits50: number;
  readonly hits25: number;
  readonly onsetHits: number;
  readonly f50: number;
}
const { cases } = JSON.parse(
  readFileSync(new URL('./fixtures/mir-eval-figures.json', import.meta.url), 'utf8'),
) as { cases: Case[] };
const notes = (list: [number, number][]): { onsetSec: number; midi: number }[] =>
  list.map(([onsetSec, midi]) => ({ onsetSec, midi }));

describe('note F1', () => {
  it(`counts as mir_eval does in ${cases.length} recorded cases`, () => {
    for (const { truth, heard, hits50, hits25, onsetHits, f50 } of cases) {
      const ours = tally(notes(truth), notes(heard));
      expect([ours.hits50, ours.hits25, ours.onsetHits]).toEqual([hits50, hits25, onsetHits]);
      expect(f1(ours.hits50, ours)).toBeCloseTo(f50, 9);
    }
  });
  it('is 1 for the truth itself, 0 for nothing heard, null where there is nothing to hear', () => {
    const truth = notes([
      [1, 40],
      [2, 45],
    ]);
    const same = tally(truth, truth);
    expect(f1(same.hits25, same)).toBe(1);
    const none = tally(truth, []);
    expect(f1(none.hits50, none)).toBe(0);
    const empty = tally([], []);
    expect(f1(empty.hits50, empty)).toBeNull();
  });
  it('pools by adding counts, not by averaging takes', () => {
    const right = tally(notes([[1, 40]]), notes([[1, 40]]));
    const wrong = tally(
      notes([
        [1, 40],
        [2, 40],
        [3, 40],
      ]),
      [],
    );
    const both = addTallies([right, wrong]);
    expect(f1(both.hits50, both)).toBeCloseTo(2 / 5, 12);
  });
  it('tells an octave from another wrong pitch', () => {
    const truth = notes([
      [1, 40],
      [2, 40],
      [3, 40],
    ]);
    const heard = notes([
      [1, 52],
      [2, 41],
      [3, 28],
    ]);
    expect(tally(truth, heard).octaves).toBe(2);
  });
});

describe('onset timing', () => {
  it('gives the median error and the median distance from it', () => {
    const truth = notes([
      [1, 40],
      [2, 40],
      [3, 40],
    ]);
    const heard = notes([
      [1.002, 40],
      [2.004, 40],
      [3.009, 40],
    ]);
    const { biasSec, spreadSec } = timing(tally(truth, heard))!;
    expect(biasSec).toBeCloseTo(0.004, 9);
    expect(spreadSec).toBeCloseTo(0.002, 9);
    expect(timing(tally(truth, []))).toBeNull();
  });
});

describe('the matching', () => {
  it('is as large as any: checked against trying every assignment', () => {
    const largest = (can: boolean[][], t = 0, used = 0): number => {
      if (t === can.length) return 0;
      let best = largest(can, t + 1, used);
      can[t]!.forEach((ok, h) => {
        if (ok && !(used & (1 << h))) best = Math.max(best, 1 + largest(can, t + 1, used | (1 << h)));
      });
      return best;
    };
    fc.assert(
      fc.property(
        fc.array(fc.array(fc.boolean(), { minLength: 5, maxLength: 5 }), { maxLength: 5 }),
        (can) => {
          const found = bestMatching(can.length, 5, (t, h) => (can[t]![h] ? Math.abs(t - h) : null));
          const used = found.filter((h) => h >= 0);
          expect(new Set(used).size).toBe(used.length);
          found.forEach((h, t) => expect(h < 0 || can[t]![h]).toBe(true));
          expect(used.length).toBe(largest(can));
        },
      ),
      { seed: 1 },
    );
  });
});
