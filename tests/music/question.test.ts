import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countedBeats, differingBeats, heldBack, isRight } from '../../src/music/question.ts';
import { makeTest } from '../../src/tests-engine/index.ts';
import { plain, plainRhythm, METRES } from '../tests-engine/procedure/some-tests.ts';

describe('the beats of a phrase', () => {
  it('are those of the count, from the first bar line to the last without a gap', () => {
    const seven = { beats: 7, beatUnit: 8, grouping: [2, 2, 3] } as const;
    expect(countedBeats({ metre: seven, bars: 2 }).map((b) => [b.bar, b.beat, b.startTicks])).toEqual([
      [1, 1, 0],
      [1, 2, 480],
      [1, 3, 960],
      [2, 1, 1680],
      [2, 2, 2160],
      [2, 3, 2640],
    ]);
    for (const metre of METRES) {
      const beats = countedBeats({ metre, bars: 3 });
      expect(beats[0]!.startTicks).toBe(0);
      expect(beats.at(-1)!.endTicks).toBe((3 * metre.beats * 1920) / metre.beatUnit);
      for (const [i, beat] of beats.entries())
        if (i > 0) expect(beat.startTicks).toBe(beats[i - 1]!.endTicks);
    }
  });
});

describe('the answer to the question', () => {
  // Asked: quavers on the "and" of beat 2; the rival has them on the "and" of beat 4.
  it('is right at the beats that are struck otherwise, and they part at the first of them', () => {
    expect(differingBeats(plainRhythm)).toEqual([1, 3]);
    const said = (form: 'beat' | 'part') => (beat: number) => isRight(plainRhythm, { form, beat });
    expect([0, 1, 2, 3, 4, 99].map(said('beat'))).toEqual([false, true, false, true, false, false]);
    expect([0, 1, 2, 3, 4, 99].map(said('part'))).toEqual([false, true, false, false, false, false]);
    expect([isRight(plainRhythm, 'A'), isRight(plainRhythm, 'B')]).toEqual([false, true]);
  });
  it('is neither where nothing is asked', () => {
    expect(isRight(plain, 'A')).toBeNull();
    expect(isRight(plain, { form: 'part', beat: 0 })).toBeNull();
  });
  it('exists for every rhythm that is made: some beat differs, and not all', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 10 }), fc.integer({ min: 0, max: 1e6 }), (level, seed) => {
        const test = makeTest({ kind: 'rhythm', level, seed, instrument: 'guitar' });
        const differ = differingBeats(test).length;
        return differ > 0 && differ < countedBeats(test.phrase).length;
      }),
      { numRuns: 60 },
    );
  });
  it('a wrong one holds back "there" alone', () => {
    expect(heldBack({ outcome: 'there', mark: 98 })).toEqual({ outcome: 'close', mark: 98 });
    for (const outcome of ['close', 'not-yet', null] as const)
      expect(heldBack({ outcome })).toEqual({ outcome });
  });
});
