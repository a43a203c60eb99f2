import { describe, expect, it } from 'vitest';
import type { Metre, Phrase } from '../../../src/music/score.ts';
import {
  LEVELS,
  METRES,
  difficulty,
  difficultyParts,
  makeTest,
  metricWeights,
  syncopations,
} from '../../../src/tests-engine/material/index.ts';

const TWO_FOUR: Metre = { beats: 2, beatUnit: 4, grouping: [2] };

/** Onsets in ticks from durations in units of `unit` ticks. */
const from = (durations: readonly number[], unit: number): number[] =>
  durations.reduce<number[]>((all, length) => [...all, all.at(-1)! + length * unit], [0]).slice(0, -1);

describe('the syncopation measure', () => {
  // Longuet-Higgins & Lee 1984, figure 9, as H. Honing's public implementation (LHL84.lisp) lists it:
  // durations, metre, and the strength of the one syncopation, or none.
  it.each([
    ['(1 3) in (2 2)', from([1, 3], 240), TWO_FOUR, [1]],
    ['(2 1 3 2) in (2 2 2)', from([2, 1, 3, 2], 240), METRES['4/4'], [2]],
    ['(3 1) in (2 2)', from([3, 1], 240), TWO_FOUR, []],
    ['(2 1) in (3)', from([2, 1], 480), METRES['3/4'], []],
    ['(1 2) in (3)', from([1, 2], 480), METRES['3/4'], [0]],
    // The same file, examples of its author: strengths there are given plus one.
    ['(3 1 2) in (2 3)', from([3, 1, 2], 240), METRES['6/8'], [0]],
    ['(1 2 1) in (2 2)', from([1, 2, 1], 240), TWO_FOUR, [1]],
    ['(1 2 1 1 3) in (2 2 2)', from([1, 2, 1, 1, 3], 240), METRES['4/4'], [1, 1]],
    ['(1 2 2 2 1) in (2 2 2)', from([1, 2, 2, 2, 1], 240), METRES['4/4'], [1, 2, 1]],
  ] as const)('gives the worked example %s', (_, onsets, metre, strengths) => {
    expect(syncopations(onsets, metre, 1)).toEqual(strengths);
  });
  it('weighs the bar as the paper does', () => {
    const quavers = (metre: Metre): number[] => metricWeights(metre).filter((_, i) => i % 2 === 0);
    expect(quavers(METRES['4/4'])).toEqual([0, -3, -2, -3, -1, -3, -2, -3]);
    expect(quavers(METRES['3/4'])).toEqual([0, -2, -1, -2, -1, -2]);
    expect(quavers(METRES['6/8'])).toEqual([0, -2, -2, -1, -2, -2]);
    expect(quavers(METRES['12/8'])).toEqual([0, -3, -3, -2, -3, -3, -1, -3, -3, -2, -3, -3]);
  });
  it('counts a note held over the bar line', () => {
    expect(syncopations([0, 1680], METRES['4/4'], 2)).toContain(3);
  });
});

/** A phrase of crotchets on these MIDI numbers. */
function phrase(midis: readonly number[], step = 480): Phrase {
  const notes = midis.map((midi, i) => ({
    startTicks: i * step,
    durationTicks: step,
    midi,
    spelling: 'C4',
    string: 1,
    fret: 0,
  }));
  return { metre: METRES['4/4'], bars: 2, notes } as unknown as Phrase;
}

describe('difficulty', () => {
  const C = { tonic: 'C', scale: 'major' };
  const plain = [60, 62, 64, 62, 60, 62, 64, 60];
  it('rises with wider intervals, foreign notes, more turns, a faster tempo and more notes', () => {
    const base = difficulty(phrase(plain), C, 80);
    expect(difficulty(phrase([60, 67, 64, 72, 60, 69, 64, 60]), C, 80)).toBeGreaterThan(base);
    expect(difficulty(phrase(plain.map((n) => (n === 62 ? 61 : n))), C, 80)).toBeGreaterThan(
      difficulty(phrase(plain.map((n) => (n === 62 ? 67 : n)).map((n) => (n === 67 ? 62 : n))), C, 80) - 5,
    );
    expect(difficultyParts(phrase([60, 61, 60, 61, 60, 61, 60, 60]), C, 80).parts.tonal).toBeGreaterThan(
      difficultyParts(phrase([60, 62, 60, 62, 60, 62, 60, 60]), C, 80).parts.tonal,
    );
    expect(difficulty(phrase(plain), C, 120)).toBeGreaterThan(base);
    expect(difficulty(phrase([...plain, ...plain], 240), C, 80)).toBeGreaterThan(base);
  });
  it('is blind to the key it stands in', () => {
    const up = plain.map((n) => n + 5);
    expect(difficulty(phrase(up), { tonic: 'F', scale: 'major' }, 80)).toBe(difficulty(phrase(plain), C, 80));
  });
  it('refuses an empty phrase', () => {
    expect(() => difficulty(phrase([]), C, 80)).toThrow(RangeError);
  });

  it.each(['melody', 'rhythm'] as const)(
    'of a %s rises with the level, and neighbours hardly overlap',
    (kind) => {
      const levels = LEVELS.map((_, i) =>
        Array.from({ length: 1000 }, (_, seed) => {
          const test = makeTest({ kind, level: i + 1, seed, instrument: 'guitar' });
          return difficulty(test.phrase, test.key, test.tempoBpm);
        }).sort((a, b) => a - b),
      );
      const means = levels.map((all) => all.reduce((sum, d) => sum + d, 0) / all.length);
      means.slice(1).forEach((mean, i) => expect(mean).toBeGreaterThan(means[i]!));
      // Of a random test of a level and one of the next, the lower is the harder in at most one of twenty.
      for (let i = 0; i + 1 < levels.length; i++) {
        const [easy, hard] = [levels[i]!, levels[i + 1]!];
        let j = 0;
        let turned = 0;
        for (const d of easy) {
          while (j < hard.length && hard[j]! < d) j++;
          turned += j;
        }
        expect(turned / (easy.length * hard.length)).toBeLessThan(0.05);
      }
    },
    300_000,
  );
});
