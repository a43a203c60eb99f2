import { describe, expect, it } from 'vitest';
import { overruledChordMark } from '../../../../src/tests-engine/marks/chords/index.ts';
import { chordPoints, wrongShare } from '../../../../src/tests-engine/marks/chords/markChords.ts';
import type { ChordMark, ChordVerdict } from '../../../../src/tests-engine/marks/anyMark.ts';

const verdict = (askedIndex: number, some: Partial<ChordVerdict> = {}): ChordVerdict => ({
  kind: 'yes',
  askedIndex,
  atSec: 2 * askedIndex,
  errorMs: null,
  missing: [],
  foreign: [],
  bass: null,
  ...some,
});
const given = (verdicts: ChordVerdict[], timed: boolean): ChordMark => ({
  version: 1,
  type: 'chords',
  ...chordPoints(
    verdicts.map(() => timed),
    verdicts,
    wrongShare,
  ),
  reason: null,
  outcome: 'close',
  readings: [],
  advice: { code: 'chords-right', values: {} },
  verdicts,
});

describe('verdicts on chords that a teacher changed', () => {
  const wrong = verdict(1, { kind: 'no', missing: [4], foreign: [5, 6] });
  const four = [verdict(0), wrong, verdict(2), verdict(3, { kind: 'unsure' })];

  it('a wrong one called right gives its points back, and wrong again takes the machine’s', () => {
    const mark = given(four, false);
    expect(mark.mark).toBe(66.7);
    expect(overruledChordMark(mark, false, [])).toBe(66.7);
    expect(overruledChordMark(mark, false, [{ index: 1, kind: 'yes' }])).toBe(100);
    expect(overruledChordMark(mark, false, [{ index: 1, kind: 'no' }])).toBe(66.7);
  });

  it('a right one called wrong costs what one class does, left out costs all', () => {
    const mark = given([verdict(0), verdict(1)], false);
    expect(overruledChordMark(mark, false, [{ index: 0, kind: 'no' }])).toBe(70);
    expect(overruledChordMark(mark, false, [{ index: 0, kind: 'missed' }])).toBe(50);
  });

  it('an untold one that is told counts', () => {
    const mark = given(four, false);
    expect(overruledChordMark(mark, false, [{ index: 3, kind: 'yes' }])).toBe(75);
    // Called untold, a wrong one costs nothing.
    expect(overruledChordMark(mark, false, [{ index: 1, kind: 'unsure' }])).toBe(100);
  });

  it('keeps what a late chord lost by its time', () => {
    const late = given(
      [verdict(0, { errorMs: 0 }), verdict(1, { kind: 'no', missing: [4], errorMs: 230 })],
      true,
    );
    // 35 % of a chord for the time, half of it lost between 60 and 400 ms: 100 − (0.35 / 2) / 2.
    expect(overruledChordMark(late, true, [{ index: 1, kind: 'yes' }])).toBeCloseTo(91.3, 1);
  });

  it('knows no verdict that is not there, and gives no mark where there was none', () => {
    const mark = given(four, false);
    expect(() => overruledChordMark(mark, false, [{ index: 9, kind: 'yes' }])).toThrow(
      /verdict index must be 0…3, got 9/,
    );
    expect(overruledChordMark({ ...mark, mark: null }, false, [{ index: 0, kind: 'no' }])).toBeNull();
  });
});
