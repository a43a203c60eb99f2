import { describe, expect, it } from 'vitest';
import type { PracticeTest } from '../../../src/music/score.ts';
import { LEVELS, barTicks, makeTest } from '../../../src/tests-engine/material/index.ts';
import { askedPairs, wellFormed } from '../../../src/tests-engine/material/rhythm/asked.ts';
import { onsetsOf } from '../../../src/tests-engine/material/rhythm/parts.ts';

const SEEDS = 10_000;
const make = (level: number, seed: number): PracticeTest =>
  makeTest({ kind: 'rhythm', level, seed, instrument: seed % 2 === 0 ? 'guitar' : 'bass' });
const onsets = (phrase: PracticeTest['phrase']): number[] => phrase.notes.map((note) => note.startTicks);

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
        // A shift that makes A of B brings A's first onset onto one of B's.
        for (const onset of theirs) {
          const by = onset - mine[0]!;
          if (by === 0) continue;
          const moved = mine.map((at) => (at + by + length) % length).sort((a, b) => a - b);
          if (moved.length === theirs.length && moved.every((at, i) => at === theirs[i]))
            say(false, 'B is never A shifted');
        }
        if (question!.answer === 'A') asA++;
      }
      expect([...faults].map(([fault, seed]) => `${fault} (first seed ${seed})`)).toEqual([]);
      // Five standard deviations of a fair coin over 10,000 throws are 2.5 %.
      expect(Math.abs(asA / SEEDS - 0.5)).toBeLessThan(0.025);
    }, 300_000);

    it('come in pairs: none returns within a round, and on another round it is tossed again', () => {
      for (const [m, at] of level.metres.entries()) {
        const pairs = askedPairs(level, at).length;
        const from = 2 * pairs * level.metres.length * 1000 + m;
        const round = (k: number): PracticeTest[] =>
          Array.from({ length: pairs }, (_, i) => make(number, from + (k * pairs + i) * level.metres.length));
        const name = (test: PracticeTest): string =>
          [onsets(test.phrase).join(), onsets(test.question!.other).join()].sort().join(' ');
        const first = round(0);
        expect(new Set(first.map(name)).size, at.metre).toBe(pairs);
        // Tossed again on every round: over four of them both rhythms of most pairs are played.
        const played = [0, 1, 2, 3].map((k) => round(k).map((test) => onsets(test.phrase).join()));
        const both = first.filter((_, i) => new Set(played.map((names) => names[i])).size === 2).length;
        // Seven in eight by chance; 0.62 is five standard deviations less for the fewest pairs (45).
        expect(both / pairs, at.metre).toBeGreaterThan(0.62);
      }
    }, 300_000);
    it('stand beside rivals of their own form, no rhythm in two pairs', () => {
      for (const at of level.metres) {
        const pairs = askedPairs(level, at);
        const names = pairs.flatMap((pair) => pair.map((parts) => onsetsOf(parts).join()));
        expect(new Set(names).size, at.metre).toBe(names.length);
        // Level 1 and three in a bar have too few figures for it.
        const least = number === 1 || at.metre === '3/4' ? 0.5 : 1;
        const formed = pairs.filter((pair) => pair.every(wellFormed)).length;
        expect(formed / pairs.length, at.metre).toBeGreaterThanOrEqual(least);
      }
    });
  },
);
