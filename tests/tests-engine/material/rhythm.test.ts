import { describe, expect, it } from 'vitest';
import type { PracticeTest } from '../../../src/music/score.ts';
import { LEVELS, barTicks, makeTest } from '../../../src/tests-engine/material/index.ts';

const SEEDS = 10_000;
const make = (level: number, seed: number): PracticeTest =>
  makeTest({ kind: 'rhythm', level, seed, instrument: seed % 2 === 0 ? 'guitar' : 'bass' });
const onsets = (phrase: PracticeTest['phrase']): number[] => phrase.notes.map((note) => note.startTicks);

/** Rhythms of each level and metre before one returns: the stock. */
const STOCKS: Record<number, Record<string, number>> = {
  1: { '4/4': 95 },
  2: { '4/4': 135 },
  3: { '4/4': 751 },
  4: { '4/4': 915, '3/4': 92 },
  5: { '4/4': 286 },
  6: { '4/4': 137, '6/8': 1162, '12/8': 1916 },
  7: { '4/4': 1216, '12/8': 1696 },
  8: { '4/4': 1620, '6/8': 91 },
  9: { '5/4': 2159, '7/8': 3543 },
  10: { '4/4': 3231, '5/4': 2414, '7/8': 3587 },
};

describe.each(LEVELS.map((level, i) => ({ level, number: i + 1 })))(
  'rhythms of level $number',
  ({ level, number }) => {
    it(`and their second rhythm keep every promise over seeds 0–${SEEDS - 1}`, () => {
      const faults = new Map<string, number>();
      let asA = 0;
      for (let seed = 0; seed < SEEDS; seed++) {
        const test = make(number, seed);
        const say = (holds: boolean, what: string): void => {
          if (!holds && !faults.has(what)) faults.set(what, seed);
        };
        const { phrase, question, tuning } = test;
        const other = question!.other;
        const length = barTicks(phrase.metre) * phrase.bars;
        for (const one of [phrase, other]) {
          let free = 0;
          for (const note of one.notes) {
            say(
              note.string === tuning.length && note.fret === 0 && note.midi === tuning[0],
              'open lowest string',
            );
            say(note.startTicks >= free && note.durationTicks > 0, 'notes in order, none overlapping');
            free = note.startTicks + note.durationTicks;
          }
          say(free <= length, 'bars add up');
          say(one.notes[0]!.startTicks === 0, 'begins on the first beat');
          say(one.bars === phrase.bars && one.metre === phrase.metre, 'A and B equally long');
        }
        const [mine, theirs] = [onsets(phrase), onsets(other)];
        say(mine.length === theirs.length, 'A and B equally dense');
        const gone = mine.filter((onset) => !theirs.includes(onset));
        const come = theirs.filter((onset) => !mine.includes(onset));
        say(gone.length >= 1, 'A and B never differ in lengths alone');
        say(gone.length <= level.question.moves, 'A and B differ in one or two places');
        say(
          gone.every((onset, i) => Math.abs(onset - come[i]!) >= level.question.leastTicks),
          'by as much as the level hears',
        );
        for (let by = 40; by < length; by += 40) {
          const moved = mine.map((onset) => (onset + by) % length).sort((a, b) => a - b);
          if (moved.length === theirs.length && moved.every((onset, i) => onset === theirs[i]))
            say(false, 'B is never A shifted');
        }
        if (question!.answer === 'A') asA++;
      }
      expect([...faults].map(([fault, seed]) => `${fault} (first seed ${seed})`)).toEqual([]);
      // Five standard deviations of a fair coin over 10,000 throws are 2.5 %.
      expect(Math.abs(asA / SEEDS - 0.5)).toBeLessThan(0.025);
    }, 300_000);

    it('walk a permutation of their stock, from any seed', () => {
      const stocks = STOCKS[number] ?? {};
      const metres = level.metres.length;
      for (const [m, { metre }] of level.metres.entries()) {
        const stock = stocks[metre]!;
        const from = 1_000_000 - (1_000_000 % metres) + m;
        const seen = new Set<string>();
        for (let i = 0; i < stock; i++) seen.add(onsets(make(number, from + i * metres).phrase).join());
        expect({ metre, different: seen.size }).toEqual({ metre, different: stock });
        expect(seen.has(onsets(make(number, from + stock * metres).phrase).join())).toBe(true);
      }
    }, 300_000);
  },
);
