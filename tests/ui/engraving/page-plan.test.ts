import { describe, expect, it } from 'vitest';
import { makeReading } from '../../../src/tests-engine/index.ts';
import type { Piece } from '../../../src/ui/engraving/layout.ts';
import { linesFor, roomFor, scaleFor, systemsFor } from '../../../src/ui/engraving/layout.ts';
import { barWidthFor, pageByLines, wholePage } from '../../../src/ui/engraving/pagePlan.ts';

const LEAST = 0.45;
const pieceOf = (level: number, seed: number): Piece => {
  const { phrase, key, instrument, tempoBpm } = makeReading({ level, seed, instrument: 'guitar' });
  return {
    ...{ phrase, key, instrument, strings: 6, tempoBpm, swing: 0.5, swingWords: '' },
    ...{ signs: true, heading: true, tab: true },
  };
};
const ROOMS = [
  { width: 1184, height: 560, line: 265, bar: 170, most: 1.3 },
  { width: 358, height: 440, line: 265, bar: 170, most: 1 },
  { width: 776, height: 270, line: 265, bar: 170, most: 1.3 },
] as const;

describe.each(ROOMS)('a page to read in $width × $height', (room) => {
  it('fits whole where it stays legible, else by lines of which two fit; every level, seeds 0…9', () => {
    for (let level = 1; level <= 10; level++)
      for (let seed = 0; seed < 10; seed++) {
        const piece = pieceOf(level, seed);
        const whole = wholePage(piece, room, LEAST);
        const { scale, perLine, inView } = whole
          ? { ...whole, inView: piece.phrase.bars }
          : pageByLines(piece, room, LEAST);
        const ranges = linesFor(piece, room.width, barWidthFor(room.width, perLine), scale);
        const name = `level ${level} seed ${seed}`;
        expect(scale, name).toBeLessThanOrEqual(room.most);
        // As it is planned it is broken, and nothing has to be drawn smaller than planned to stand clear.
        expect(ranges, name).toHaveLength(Math.ceil(piece.phrase.bars / perLine));
        expect(scaleFor(piece, ranges, room.width, scale), name).toBeCloseTo(scale, 9);
        const lines = Math.min(inView, ranges.length);
        expect(lines * room.line * scale, name).toBeLessThanOrEqual(room.height + 1e-6);
        if (whole) expect(scale, name).toBeGreaterThanOrEqual(LEAST);
      }
  });
});

it('takes more lines where they make the music larger: six full bars to a line would be drawn smaller', () => {
  const piece = pieceOf(10, 5);
  const room = ROOMS[0];
  const plan = wholePage(piece, room, LEAST)!;
  const six = roomFor(piece, systemsFor(12, room.width, barWidthFor(room.width, 6)), room.width);
  expect(piece.phrase.bars).toBe(12);
  expect(plan.perLine).toBeLessThan(6);
  expect(plan.scale).toBeGreaterThan(six);
});

it('read from where one plays every page with TAB is at .9 or larger, two lines in view, whatever the level, seeds 0…9', () => {
  const room = { ...ROOMS[0], height: 480 };
  for (let level = 1; level <= 10; level++)
    for (let seed = 0; seed < 10; seed++) {
      const piece = pieceOf(level, seed);
      const plan = wholePage(piece, room, 0.9) ?? pageByLines(piece, room, 0.9);
      expect(plan.scale, `level ${level} seed ${seed}`).toBeGreaterThanOrEqual(0.9);
      if ('inView' in plan) expect(plan.inView, `level ${level} seed ${seed}`).toBe(2);
    }
});

it('where two lines would be too small shows one at a time rather', () => {
  const piece = pieceOf(5, 1);
  const room = { width: 358, height: 190, line: 265, bar: 170, most: 1 };
  expect(wholePage(piece, room, LEAST)).toBeNull();
  const plan = pageByLines(piece, room, LEAST);
  expect(plan.inView).toBe(1);
  expect(plan.scale).toBeGreaterThanOrEqual(LEAST);
});
