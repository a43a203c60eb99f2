import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeTest, markTask, overruledMark, type VerdictKind } from '../../../src/tests-engine/index.ts';
import { learner } from '../progress/learner.ts';

/** A take of a simulated student with something wrong in it, and its mark. */
function taken(seed: number, kind: 'melody' | 'rhythm') {
  const test = makeTest({ kind, level: 1 + (seed % 9), seed, instrument: 'guitar' });
  const take = learner({ seed, mayBeWeak: ['third-up', 'step-down', 'after-rest', 'degree-5'] }).take(test);
  const mark = markTask(test, take);
  const options = { pitch: kind === 'melody' };
  const follow = (...changes: { index: number; kind: VerdictKind }[]) =>
    overruledMark(test, take, options, mark, changes);
  return { test, mark, follow };
}
const seeds = fc.record({ seed: fc.nat(5000), kind: fc.constantFrom('melody' as const, 'rhythm' as const) });

describe('the mark after a teacher changed verdicts', () => {
  it('stays where nothing is changed, and follows a missed note called right by a point of the phrase', () => {
    const { mark, follow, test } = [...Array(60).keys()]
      .map((seed) => taken(seed, 'melody'))
      .find(({ mark }) => mark.mark! > 60 && mark.verdicts.some(({ kind }) => kind === 'missed'))!;
    expect(follow()).toBe(mark.mark);
    const index = mark.verdicts.findIndex(({ kind }) => kind === 'missed');
    expect(follow({ index, kind: 'missed' })).toBe(mark.mark);
    expect(follow({ index, kind: 'right' })).toBeCloseTo(mark.mark! + 100 / test.phrase.notes.length, 0);
  });
  it('is 98 to 100 once every note of a take without pauses is called right, and its extra notes with them', () => {
    fc.assert(
      fc.property(seeds, ({ seed, kind }) => {
        const { mark, follow } = taken(seed, kind);
        if (mark.mark === null || mark.mark < 20 || mark.lost.continuity > 0) return;
        const all = mark.verdicts.map((_, index) => ({ index, kind: 'right' as const }));
        expect(follow(...all)).toBeGreaterThanOrEqual(98);
      }),
      { numRuns: 80, seed: 1 },
    );
  });
  it('is never higher than with the note called right, nor lower than with it called missed', () => {
    fc.assert(
      fc.property(seeds, fc.nat(100), ({ seed, kind }, which) => {
        const { mark, follow } = taken(seed, kind);
        const written = mark.verdicts.flatMap((v, index) => (v.targetIndex === null ? [] : [index]));
        if (mark.mark === null || written.length === 0) return;
        const index = written[which % written.length]!;
        const [right, missed] = [follow({ index, kind: 'right' })!, follow({ index, kind: 'missed' })!];
        for (const one of ['early', 'late', 'wrong'] as const) {
          expect(follow({ index, kind: one })).toBeLessThanOrEqual(right);
          expect(follow({ index, kind: one })).toBeGreaterThanOrEqual(missed);
        }
        expect(mark.mark).toBeLessThanOrEqual(right);
        expect(mark.mark).toBeGreaterThanOrEqual(missed);
      }),
      { numRuns: 100, seed: 2 },
    );
  });
  it('is none where the take had none, and refuses a verdict that is not there', () => {
    const { mark, follow, test } = taken(3, 'melody');
    expect(() => follow({ index: mark.verdicts.length, kind: 'right' })).toThrow(RangeError);
    const silent = { notes: [], tuningCents: 0, heard: { verdict: 'refused', reason: 'silence' } } as never;
    const none = markTask(test, silent);
    expect(overruledMark(test, silent, { pitch: true }, none, [])).toBeNull();
  });
});
