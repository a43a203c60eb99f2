import { describe, expect, it } from 'vitest';
import { MOST_PIECE_BARS, unfold, type BarRoad } from '../../../src/exchange/piece/unfold.ts';

const PLAIN: BarRoad = {
  forward: false,
  backward: 0,
  ending: null,
  segno: false,
  coda: false,
  toCoda: false,
  fine: false,
  daCapo: false,
  dalSegno: false,
};
const road = (...bars: readonly Partial<BarRoad>[]): BarRoad[] => bars.map((bar) => ({ ...PLAIN, ...bar }));
const order = (...bars: readonly Partial<BarRoad>[]): string => (unfold(road(...bars)) ?? []).join(' ');

/** How repeats are read: Gould, "Behind Bars" (2011), pp. 233–242 (from memory); common practice. */
describe('the order in which written bars are played', () => {
  it('plays a repeat twice, or as often as it says', () => {
    expect(order({}, { backward: 2 }, {})).toBe('0 1 0 1 2');
    expect(order({}, { forward: true }, { backward: 3 }, {})).toBe('0 1 2 1 2 1 2 3');
  });
  it('takes each ending in its turn', () => {
    expect(order({}, { ending: [1], backward: 2 }, { ending: [2] }, {})).toBe('0 1 0 2 3');
    expect(order({}, { ending: [1, 2], backward: 3 }, { ending: [3] })).toBe('0 1 0 1 0 2');
    expect(
      order({ forward: true }, {}, { ending: [1] }, { ending: [1], backward: 2 }, { ending: [2] }, {}),
    ).toBe('0 1 2 3 0 1 4 5');
  });
  it('goes on to a second repeat after the first', () => {
    expect(order({}, { backward: 2 }, { forward: true }, { backward: 2 })).toBe('0 1 0 1 2 3 2 3');
    expect(order({}, { backward: 2 }, {}, { backward: 2 })).toBe('0 1 0 1 2 3 2 3');
  });
  it('plays da capo al fine without repeats, dal segno al coda by the coda', () => {
    expect(order({}, { fine: true }, {}, { daCapo: true })).toBe('0 1 2 3 0 1');
    expect(order({ backward: 2 }, { fine: true }, { daCapo: true })).toBe('0 0 1 2 0 1');
    expect(order({}, { segno: true }, { toCoda: true }, { dalSegno: true }, { coda: true })).toBe(
      '0 1 2 3 1 2 4',
    );
  });
  it('takes the last ending after a da capo', () => {
    expect(order({}, { ending: [1], backward: 2 }, { ending: [2], fine: true }, { daCapo: true })).toBe(
      '0 1 0 2 3 0 2',
    );
  });
  it('says when it would be without end', () => {
    const long = Array.from({ length: MOST_PIECE_BARS }, () => ({}));
    expect(unfold(road(...long))).toHaveLength(MOST_PIECE_BARS);
    expect(unfold(road(...long, { backward: 2 }))).toBeNull();
  });
});
