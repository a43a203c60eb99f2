import { describe, expect, it } from 'vitest';
import { markTask, OPEN_SPAN, performedSec, takeOf } from '../../../src/tests-engine/index.ts';
import type { HeardTake } from '../../../src/music/notes.ts';
import type { PracticeTest, TestKind } from '../../../src/music/score.ts';
import { bpm, cents, db, midi, sec, ticks } from '../../../src/music/units.ts';

const PITCHES = [52, 55, 57, 59, 57, 55, 52, 50];
function practiceTest(kind: TestKind, swing = 0.5): PracticeTest {
  return {
    version: 1,
    kind,
    instrument: 'guitar',
    tuning: [40, 45, 50, 55, 59, 64].map(midi),
    level: 5,
    seed: 1,
    tempoBpm: bpm(100),
    key: { tonic: 'E', scale: 'minor pentatonic' },
    swing,
    style: 'plain',
    phrase: {
      metre: { beats: 4, beatUnit: 4, grouping: [1, 1, 1, 1] },
      bars: 1,
      notes: PITCHES.map((pitch, k) => ({
        startTicks: ticks(k * 240),
        durationTicks: ticks(240),
        midi: midi(kind === 'rhythm' ? 40 : pitch),
        spelling: 'E3',
        string: 6,
        fret: 0,
      })),
    },
    question: null,
    procedure: { hearings: 2, practiceSec: sec(20) },
  };
}
function heard(test: PracticeTest, zeroSec: number, change = (pitch: number): number => pitch): HeardTake {
  return {
    tuningCents: cents(0),
    heard: { verdict: 'ok', reason: null },
    notes: test.phrase.notes.map((n) => ({
      onsetSec: sec(zeroSec + performedSec(n.startTicks, test)),
      offsetSec: sec(zeroSec + performedSec(n.startTicks + n.durationTicks, test)),
      midi: midi(change(n.midi)),
      cents: cents(0),
      levelDb: db(-20),
      confidence: 1,
    })),
  };
}

describe('a heard take of a test', () => {
  it.each([0.5, 2 / 3])('played as written is 100, wherever bar 1 begins, swing %f', (swing) => {
    const test = practiceTest('melody', swing);
    expect(
      markTask(test, takeOf(heard(test, 7.25), { beatOneSec: 7, latencySec: 0.25 }, OPEN_SPAN)).mark,
    ).toBe(100);
  });

  it('a swung off-beat falls two thirds into the beat', () => {
    expect(performedSec(240, { tempoBpm: bpm(60), swing: 2 / 3 })).toBeCloseTo(2 / 3, 9);
    expect(performedSec(480 + 360, { tempoBpm: bpm(60), swing: 2 / 3 })).toBeCloseTo(1 + 5 / 6, 9);
  });

  it('straight quavers lose only a little where swing was asked', () => {
    const swung = practiceTest('melody', 2 / 3);
    const straight = heard(practiceTest('melody'), 0);
    const m = markTask(swung, straight);
    expect(m.mark).toBeGreaterThan(95);
  });

  it('in a rhythm test another pitch costs nothing and draws a remark', () => {
    const test = practiceTest('rhythm');
    const m = markTask(
      test,
      heard(test, 0, (pitch) => pitch + 5),
    );
    expect(m.mark).toBe(100);
    expect(m.readings).toEqual([{ code: 'other-pitch', values: { count: 8 } }]);
    expect(m.advice.code).toBe('all-right');
  });

  it('in a melody test another pitch costs', () => {
    const test = practiceTest('melody');
    expect(
      markTask(
        test,
        heard(test, 0, (pitch) => (pitch === 59 ? 60 : pitch)),
      ).mark,
    ).toBeLessThan(100);
  });

  it('a take that could not be heard has no mark, and says why', () => {
    const test = practiceTest('melody');
    const take = { ...heard(test, 0), heard: { verdict: 'refused', reason: 'clipped' } } as const;
    expect(markTask(test, take)).toMatchObject({
      mark: null,
      outcome: null,
      reason: 'clipped',
    });
  });

  it('an empty take that was refused says why it was, not that nothing was played', () => {
    const test = practiceTest('melody');
    const take: HeardTake = {
      notes: [],
      tuningCents: cents(0),
      heard: { verdict: 'refused', reason: 'too-quiet' },
    };
    expect(markTask(test, take)).toMatchObject({ mark: null, reason: 'too-quiet' });
  });
});
