import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { markTake, type Mark, type PlayedNote } from '../../../src/tests-engine/index.ts';
import { biasOf } from '../../../src/ui/result/bias.ts';
import { kinds, mark, moved, TUNE } from './takes.ts';

const BEAT = 0.5;
/** Phrases of 5…14 notes on a quaver grid at 120 bpm; takes of them with a spread of up to ±12 ms. */
const gaps = fc.array(fc.constantFrom(1, 1, 2, 2, 3, 4), { minLength: 4, maxLength: 13 });
const take = fc
  .record({
    gaps,
    midi: fc.array(fc.integer({ min: 48, max: 72 }), { minLength: 14, maxLength: 14 }),
    ms: fc.array(fc.integer({ min: -12, max: 12 }), { minLength: 14, maxLength: 14 }),
    rhythm: fc.boolean(),
  })
  .map(({ gaps, midi, ms, rhythm }) => {
    let at = 0;
    const target = [0, ...gaps].map((gap, k) => ({
      onsetSec: (at += (gap * BEAT) / 2),
      ...(rhythm ? {} : { midi: midi[k] }),
    }));
    return { target, played: target.map((n, k) => ({ ...n, onsetSec: n.onsetSec + ms[k]! / 1000 })) };
  });
type Take = { target: readonly PlayedNote[]; played: readonly PlayedNote[] };
const marked = ({ target, played }: Take, latencyUncertaintyMs: number): Mark =>
  markTake({ target, played, clock: 'backing', transposition: 'none', latencyUncertaintyMs });
const later = ({ target, played }: Take, by: number, only?: number): Take => ({
  target,
  played: played.map((n, k) =>
    only === undefined || only === k ? { ...n, onsetSec: n.onsetSec + by / 1000 } : n,
  ),
});
const drawn = (m: Mark): (number | null)[] => m.verdicts.map((v) => v.errorMs);
const each = { numRuns: 200, seed: 18 };
/** Half-widths of what is not known of the latency, ms, with the largest constant that is tried: what may be taken out. */
const unknown = fc.constantFrom([20, 20], [60, 60], [120, 120], [Infinity, 230]);

describe('what the latency leaves open', () => {
  it('is the same for all notes: a constant within it changes no verdict, no drawn distance and no mark (seed 18)', () => {
    fc.assert(
      fc.property(
        take,
        unknown,
        fc.integer({ min: -100, max: 100 }),
        fc.integer({ min: 0, max: 13 }),
        fc.integer({ min: -180, max: 180 }),
        (all, [ms, most], percent, k, by) => {
          // The take itself lies within ±12 ms, which is left open beside the constant.
          const constant = ((most - 12) * percent) / 100;
          const lists = later(all, by, k % all.target.length);
          const [before, after] = [marked(lists, ms), marked(later(lists, constant), ms)];
          expect(after.verdicts.map((v) => v.kind)).toEqual(before.verdicts.map((v) => v.kind));
          for (const [x, error] of drawn(after).entries())
            if (error !== null) expect(Math.abs(error - drawn(before)[x]!)).toBeLessThanOrEqual(0.11);
          expect(Math.abs(after.mark! - before.mark!)).toBeLessThanOrEqual(0.1001);
          expect(after.advice.code).toBe(before.advice.code);
        },
      ),
      each,
    );
  });

  it('is no excuse for one note: that is drawn as far from the others as it was played (seed 18)', () => {
    fc.assert(
      fc.property(
        take,
        unknown,
        fc.integer({ min: 0, max: 13 }),
        fc.integer({ min: -110, max: 110 }),
        (all, [ms], at, by) => {
          const k = at % all.target.length;
          const punctual = { ...all, played: all.target };
          const errors = drawn(marked(later(punctual, by, k), ms));
          for (const [x, error] of errors.entries())
            expect(Math.abs(error! - (x === k ? by : 0))).toBeLessThanOrEqual(0.1);
        },
      ),
      each,
    );
  });

  it('widens no note’s limit by more than 10 ms (seed 18)', () => {
    fc.assert(
      fc.property(
        take,
        unknown,
        fc.integer({ min: 0, max: 13 }),
        fc.integer({ min: 0, max: 120 }),
        fc.boolean(),
        (all, [ms], at, by, early) => {
          const k = at % all.target.length;
          const sign = early ? -1 : 1;
          const kind = (off: number, latency: number): string =>
            marked(later({ ...all, played: all.target }, sign * off, k), latency).verdicts.find(
              (v) => v.targetIndex === k,
            )!.kind;
          if (kind(by, 0) !== 'right') expect(kind(by + 10.001, ms)).not.toBe('right');
        },
      ),
      each,
    );
  });

  it('of eight punctual notes and one 180 ms late leaves exactly that one late, wherever the take lies', () => {
    const nine = TUNE.slice(0, 9);
    for (const latencyUncertaintyMs of [0, 2, 35, 60, Infinity])
      for (const ms of [0, 30, 180].filter((x) => x <= latencyUncertaintyMs)) {
        const played = moved(0, 9, ms / 1000, moved(5, 6, 0.18, nine) as typeof TUNE);
        const m = mark(played, { target: nine, latencyUncertaintyMs });
        expect(kinds(m)).toBe('right right right right right late right right right');
        expect(m.verdicts.map((v) => v.errorMs)).toEqual([0, 0, 0, 0, 0, 180, 0, 0, 0]);
        expect(m.mark).toBeLessThan(98);
        expect(m.timing.biasMs).toBe(ms);
      }
  });

  it('is measured from the larger part of a take, also with four of ten notes late', () => {
    const ten = TUNE.slice(0, 10);
    const played = [1, 4, 6, 8].reduce(
      (all, k) => moved(k, k + 1, 0.15, all as typeof TUNE),
      ten as PlayedNote[],
    );
    const m = mark(played, { target: ten, latencyUncertaintyMs: Infinity });
    expect(m.verdicts.map((v) => v.errorMs)).toEqual([0, 150, 0, 0, 150, 0, 150, 0, 150, 0]);
  });

  it('does not hide that the rest lies beyond it', () => {
    const m = mark(moved(0, 12, 0.2), { latencyUncertaintyMs: 60 });
    expect(m.readings).toEqual([{ code: 'steady-late', values: { ms: 140 } }]);
    expect(m.verdicts.map((v) => v.errorMs)).toEqual(Array<number>(12).fill(140));
    expect(biasOf(m)).toEqual({ ms: 200, uncounted: 60 });
  });
});

describe('the details’ bias', () => {
  it('is what is drawn and what is not counted, together (seed 18)', () => {
    fc.assert(
      fc.property(take, unknown, fc.integer({ min: -300, max: 300 }), (all, [ms], by) => {
        const m = marked(later(all, by), ms);
        const bias = biasOf(m)!;
        expect(Math.abs(bias.ms - m.timing.biasMs!)).toBeLessThanOrEqual(5);
        expect(bias.uncounted).toBeLessThanOrEqual(Math.abs(bias.ms));
        const sorted = drawn(m)
          .filter((x) => x !== null)
          .sort((a, b) => a - b);
        const middle = (sorted[(sorted.length - 1) >> 1]! + sorted[sorted.length >> 1]!) / 2;
        if (bias.uncounted > 0)
          expect(Math.abs(Math.abs(bias.ms) - bias.uncounted - Math.abs(middle))).toBeLessThanOrEqual(1.1);
      }),
      each,
    );
  });

  it('is nothing on the beat, and null where too few notes were matched', () => {
    expect(biasOf(mark(TUNE))).toEqual({ ms: 0, uncounted: 0 });
    expect(biasOf(mark(TUNE.slice(0, 2)))).toBeNull();
  });
});
