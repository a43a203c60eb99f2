import { describe, expect, it } from 'vitest';
import {
  clickSheet,
  estimateKey,
  lineOf,
  makeTest,
  parseTest,
  quantise,
  METRES,
} from '../../../../src/tests-engine/index.ts';
import type { PracticeTest } from '../../../../src/music/score.ts';
import { sec } from '../../../../src/music/units.ts';
import { played, type Humanity } from './played.ts';

const HUMAN: Humanity = { jitterSec: 0.015, endJitterSec: 0.03 };

function read(test: PracticeTest, seed: number, human = HUMAN, tempoBpm: number | null = test.tempoBpm) {
  const { phrase, swing, key, tuning } = test;
  return quantise(played(test, seed, human), {
    metre: phrase.metre,
    bars: phrase.bars,
    tempoBpm,
    swing,
    key,
    tuning,
  })!;
}

/** Everything that sound can tell: times, lengths, pitches and their spelling; not the chosen string. */
const told = ({ phrase }: Pick<PracticeTest, 'phrase'>) =>
  phrase.notes.map(({ startTicks, durationTicks, spelling }) => [startTicks, durationTicks, spelling]);

const phrases = (count: number, levels: readonly number[]) =>
  Array.from({ length: count }, (_, i) =>
    makeTest({
      kind: 'melody',
      level: levels[i % levels.length]!,
      seed: 5000 + i,
      instrument: i % 7 === 0 ? 'bass' : 'guitar',
    }),
  );

function share(tests: readonly PracticeTest[], right: (test: PracticeTest, i: number) => boolean): number {
  const wrong = tests.filter((test, i) => !right(test, i));
  return 1 - wrong.length / tests.length;
}

describe('a phrase played with onsets 15 ms around the beat', () => {
  const easy = phrases(300, [1, 2, 3, 4, 5]);
  it('comes back exactly, lengths and rests too, in 95 of 100 (300 phrases of levels 1–5, seeds 5000 on)', () => {
    const back = share(easy, (test, i) => {
      const { phrase } = read(test, i);
      return JSON.stringify(told({ phrase })) === JSON.stringify(told(test));
    });
    expect(back).toBeGreaterThanOrEqual(0.95);
  });
  it('comes back exactly from levels 6–10, triplets, semiquavers and every metre, in 90 of 100', () => {
    const back = share(phrases(300, [6, 7, 8, 9, 10]), (test, i) => {
      const { phrase } = read(test, i);
      return JSON.stringify(told({ phrase })) === JSON.stringify(told(test));
    });
    expect(back).toBeGreaterThanOrEqual(0.9);
  });
  it('has its onsets and pitches back although all of it comes 40 ms late', () => {
    const back = share(easy, (test, i) => {
      const { phrase } = read(test, i, { ...HUMAN, lateSec: 0.04 });
      return (
        phrase.notes.map((n) => [n.startTicks, n.midi]).join() ===
        test.phrase.notes.map((n) => [n.startTicks, n.midi]).join()
      );
    });
    expect(back).toBeGreaterThanOrEqual(0.95);
  });
  it('without a click: the tempo is found within 4 % in most, and else its double or half', () => {
    const ratios = easy.map((test, i) => read(test, i, HUMAN, null).tempoBpm / test.tempoBpm);
    const near = (factor: number) =>
      ratios.filter((ratio) => Math.abs(ratio / factor - 1) < 0.04).length / ratios.length;
    const all = near(1) + near(2) + near(0.5);
    expect(near(1)).toBeGreaterThanOrEqual(0.75);
    // Measured: 82 and 95 of 100 (2026-11-25).
    expect(all).toBeGreaterThanOrEqual(0.9);
  });
  it('gives tests that can be read back, for every phrase', () => {
    easy.slice(0, 50).forEach((test, i) => {
      const { phrase, key } = read(test, i);
      expect(parseTest({ ...test, level: null, seed: null, key, phrase }).phrase).toEqual(phrase);
    });
  });
});

describe('what is doubtful', () => {
  const test = makeTest({ kind: 'melody', level: 2, seed: 9, instrument: 'guitar' });
  const { phrase, swing, key, tuning, tempoBpm } = test;
  const options = { metre: phrase.metre, bars: phrase.bars, tempoBpm, swing, key, tuning };
  const exact = played(test, 1, { jitterSec: 0, endJitterSec: 0 });
  it('nothing, in a phrase played like a machine', () => {
    expect(quantise(exact, options)!.doubtful).toEqual([]);
  });
  it('a note midway between two places, and one that the ear is not sure of', () => {
    const semiquaver = 15 / tempoBpm;
    const moved = exact.map((note, i) =>
      i === 2
        ? { ...note, onsetSec: sec(note.onsetSec + 0.45 * semiquaver) }
        : i === 4
          ? { ...note, confidence: 0.3 }
          : note,
    );
    expect(quantise(moved, options)!.doubtful).toEqual([2, 4]);
  });
  it('of two notes in one place the surer is written, and said to be doubtful', () => {
    const ghost = {
      ...exact[1]!,
      midi: exact[1]!.midi,
      onsetSec: sec(exact[1]!.onsetSec + 0.01),
      confidence: 0.4,
    };
    const got = quantise([...exact, ghost], options)!;
    expect(told(got)).toEqual(told(test));
    expect([got.leftOut, got.doubtful]).toEqual([1, [1]]);
  });
  it('notes in the count, behind the last bar line and beyond the instrument are left out', () => {
    const far = { ...exact[0]!, midi: 120 as never };
    const early = { ...exact[0]!, onsetSec: sec(-0.9) };
    const late = { ...exact[0]!, onsetSec: sec(60) };
    const got = quantise([early, ...exact, far, late], options)!;
    expect(told(got)).toEqual(told(test));
    expect(got.leftOut).toBe(3);
  });
  it('nothing heard gives nothing to write', () => {
    expect(quantise([], options)).toBeNull();
  });
  it('refuses a tempo, bars and swing that no test has', () => {
    expect(() => quantise(exact, { ...options, tempoBpm: 20 })).toThrow(/tempo must be 30…240/);
    expect(() => quantise(exact, { ...options, bars: 17 })).toThrow(/bars must be a whole number 1…16/);
    expect(() => quantise(exact, { ...options, swing: 0.9 })).toThrow(/swing must be 0.5…0.75/);
  });
});

describe('the key', () => {
  it('is the tonic of most phrases of levels 1–5 that are not pentatonic', () => {
    const tests = phrases(300, [3, 4, 5]).filter(({ key }) => /^(major|minor)$/.test(key.scale));
    const right = share(tests, (test) => {
      const { tonic } = estimateKey(lineOf(test.phrase));
      return tonic === test.key.tonic;
    });
    expect(right).toBeGreaterThanOrEqual(0.9);
  });
});

describe('the click', () => {
  it('counts in and clicks each felt beat of the bars', () => {
    const sheet = clickSheet(METRES['6/8'], 2, 90);
    const times = (label: string) =>
      sheet.marks.filter((mark) => mark.label === label).map(({ atSec }) => atSec);
    const [start] = times('takeStart');
    expect(times('countIn')).toHaveLength(4);
    expect(times('beat').map((at) => Math.round((at - start!) * 1000))).toEqual([0, 1000, 2000, 3000]);
    expect(times('takeEnd')[0]! - start!).toBeCloseTo(4, 9);
    expect(sheet.cues.filter(({ atSec }) => atSec >= start! - 1e-9)).toHaveLength(4);
  });
});
