import { describe, expect, it } from 'vitest';
import { FIGURES } from '../../../src/tests-engine/index.ts';
import { figureBeams, figureSigns } from '../../../src/ui/engraving/figure.ts';

/** Ticks of a written value (480 = a crotchet): halving by each value, a dot adds half, three of a triplet for two. */
const TICKS = { h: 960, q: 480, '8': 240, '16': 120 } as const;

describe('a rhythm figure as it is written', () => {
  it('has signs that last as long as its parts, for every figure of the levels', () => {
    for (const { id, parts, held } of FIGURES) {
      const signs = figureSigns({ parts, held: held ?? false });
      const lengths = signs.map(
        ({ value, dots, triplet }) => (TICKS[value] * (dots ? 3 : 2) * (triplet ? 2 : 3)) / 6,
      );
      expect(lengths, id).toEqual(parts.map(Math.abs));
      expect(
        signs.map(({ rest }) => rest),
        id,
      ).toEqual(parts.map((part) => part < 0));
    }
  });
  it('is beamed over quavers and shorter, not over crotchets or rests', () => {
    const beams = (...parts: number[]) => figureBeams(figureSigns({ parts, held: false }));
    expect(beams(240, 240)).toEqual([[0, 1]]);
    expect(beams(240, 120, 120)).toEqual([[0, 2]]);
    expect(beams(240, 480, 240)).toEqual([]);
    expect(beams(-240, 120, 120)).toEqual([[1, 2]]);
    expect(beams(240, -240)).toEqual([]);
  });
  it('refuses a length that no single sign has', () => {
    expect(() => figureSigns({ parts: [100], held: false })).toThrow(RangeError);
    expect(() => figureSigns({ parts: [100], held: false })).toThrow('100 ticks');
  });
});
