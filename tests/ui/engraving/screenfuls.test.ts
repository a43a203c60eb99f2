import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  endOfScreen,
  startOfScreen,
  topWhile,
  type LinePlace,
} from '../../../src/ui/engraving/screenfuls.ts';

/** Lines of these heights under one another. */
const stacked = (heights: readonly number[]): LinePlace[] => {
  let at = 0;
  return heights.map((height) => ({ top: at, bottom: (at += height) }));
};
const lines = fc
  .array(fc.integer({ min: 20, max: 300 }), { minLength: 1, maxLength: 14 })
  .map((heights) => stacked(heights));
const room = fc.integer({ min: 100, max: 900 });

describe('a page of music by whole lines', () => {
  it('shows as many lines as the window has room for, and one where none fits', () => {
    expect(endOfScreen(stacked([100, 100, 100]), 0, 250)).toBe(2);
    expect(endOfScreen(stacked([100, 100, 100]), 1, 250)).toBe(3);
    expect(endOfScreen(stacked([300, 100]), 0, 250)).toBe(1);
  });

  it('turned on to its end and back again shows every line, none of them cut', () => {
    fc.assert(
      fc.property(lines, room, (places, px) => {
        const seen = new Set<number>();
        const see = (from: number): number => {
          const end = endOfScreen(places, from, px);
          for (let line = from; line < end; line++) seen.add(line);
          if (end - from > 1) expect(places[end - 1]!.bottom - places[from]!.top).toBeLessThanOrEqual(px);
          return end;
        };
        let first = 0;
        for (let end = see(first); end < places.length; end = see(first)) first = end;
        expect(seen.size).toBe(places.length);
        for (let turns = 0; first > 0; turns++) {
          expect(turns).toBeLessThan(places.length);
          const before = startOfScreen(places, first, px);
          expect(before).toBeLessThan(first);
          expect(endOfScreen(places, before, px)).toBeGreaterThanOrEqual(first);
          first = before;
        }
      }),
    );
  });

  it('keeps the line that is played in view, and at the end as much before it as there is room for', () => {
    fc.assert(
      fc.property(lines, room, fc.nat(13), (places, px, wanted) => {
        const line = Math.min(wanted, places.length - 1);
        const first = topWhile(line, places, px);
        expect(first).toBeLessThanOrEqual(line);
        expect(endOfScreen(places, first, px)).toBeGreaterThan(line);
        if (first < line) expect(endOfScreen(places, first, px)).toBe(places.length);
      }),
    );
  });
});
