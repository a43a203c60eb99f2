import { describe, expect, it } from 'vitest';
import { Interval } from 'tonal';
import { midi, ticks } from '../../../src/music/units.ts';
import {
  intervalOf,
  makeReading,
  pageQuestions,
  tempoWord,
  type PageQuestion,
} from '../../../src/tests-engine/index.ts';

const SEEDS = Array.from({ length: 60 }, (_, k) => 300 + k);
const pages = SEEDS.map((seed) => makeReading({ level: 1 + (seed % 10), seed, instrument: 'guitar' }));

describe('questions on a page', () => {
  it('have three different answers, the right one among them, and ask the same by the same seed', () => {
    pages.forEach((page, k) => {
      const asked = pageQuestions(page, SEEDS[k]!);
      expect(asked.length, `seed ${SEEDS[k]}`).toBe(6);
      for (const { answer, choices } of asked) {
        expect(new Set(choices).size).toBe(3);
        expect(choices).toContain(answer);
      }
      expect(pageQuestions(page, SEEDS[k]!)).toEqual(asked);
    });
  });

  it('ask about what stands there', () => {
    const noteAt = (page: (typeof pages)[number], { bar, note }: PageQuestion) => {
      const { metre, notes } = page.phrase;
      const length = (metre.beats * 1920) / metre.beatUnit;
      return notes.filter((n) => Math.floor(n.startTicks / length) + 1 === bar)[note! - 1]!;
    };
    pages.forEach((page, k) => {
      for (const one of pageQuestions(page, SEEDS[k]!, 12)) {
        if (one.asking === 'value') expect(noteAt(page, one).durationTicks).toBe(Number(one.answer));
        if (one.asking === 'name') expect(noteAt(page, one).spelling.replace(/-?\d+$/, '')).toBe(one.answer);
        if (one.asking === 'metre')
          expect(one.answer).toBe(`${page.phrase.metre.beats} ${page.phrase.metre.beatUnit}`);
      }
    });
  });

  it('put the answer in each of the three places alike', () => {
    const places = [0, 0, 0];
    pages.forEach((page, k) =>
      pageQuestions(page, SEEDS[k]!, 12).forEach((q) => places[q.choices.indexOf(q.answer)]!++),
    );
    const all = places.reduce((a, b) => a + b);
    for (const count of places) expect(count / all).toBeCloseTo(1 / 3, 1);
  });

  it('find the bar in which the first comes back', () => {
    const line = [
      [0, 52],
      [480, 54],
      [960, 55],
      [1920, 60],
      [2400, 57],
      [2880, 55],
      [3840, 57],
      [4320, 59],
      [4800, 60],
      [5760, 50],
    ] as const;
    const notes = line.map(([start, pitch]) => ({
      startTicks: ticks(start),
      durationTicks: ticks(480),
      midi: midi(pitch),
      spelling: 'E3',
      string: 4,
      fret: 2,
    }));
    const metre = { beats: 4, beatUnit: 4, grouping: [2, 2] } as const;
    const page = { phrase: { metre, bars: 4, notes }, key: { tonic: 'E', scale: 'minor' }, tempoBpm: 90 };
    const again = SEEDS.flatMap((seed) => pageQuestions(page, seed, 8)).filter((q) => q.asking === 'again');
    expect(again.length).toBeGreaterThan(0);
    for (const { answer, choices } of again) {
      expect(answer).toBe('3');
      expect([...choices].sort()).toEqual(['2', '3', '4']);
    }
  });

  it('name intervals as tonal does', () => {
    const at = (name: string) => ({ spelling: name, midi: midi(NAMES[name]!) });
    const NAMES: Record<string, number> = {
      C4: 60,
      E4: 64,
      Eb4: 63,
      'F#4': 66,
      G4: 67,
      Bb4: 70,
      B4: 71,
      C5: 72,
    };
    for (const [low, high] of [
      ['C4', 'E4'],
      ['C4', 'Eb4'],
      ['C4', 'F#4'],
      ['E4', 'Bb4'],
      ['E4', 'B4'],
      ['Eb4', 'G4'],
      ['C4', 'C5'],
      ['F#4', 'G4'],
    ] as const) {
      const theirs = Interval.get(Interval.distance(low, high));
      expect(intervalOf(at(low), at(high))).toBe(`${theirs.q}${theirs.num}`);
    }
    expect([50, 66, 90, 100, 130, 200].map(tempoWord)).toEqual([
      'largo',
      'adagio',
      'andante',
      'moderato',
      'allegro',
      'presto',
    ]);
  });
});
