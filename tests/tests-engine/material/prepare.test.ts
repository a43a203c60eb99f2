import { describe, expect, it } from 'vitest';
import { LEVELS, levelTest, prepareLevel } from '../../../src/tests-engine/material/index.ts';
import type { LevelParameters } from '../../../src/tests-engine/material/index.ts';

/** Lists are kept with their level: a copy has none yet. */
const fresh = (level: number): LevelParameters => structuredClone(LEVELS[level - 1]!);
const made = (level: LevelParameters, kind: 'melody' | 'rhythm') =>
  [0, 1, 2, 3].map((seed) => levelTest(level, { kind, seed, instrument: 'guitar' }));

describe('what a level is drawn from, built ahead', () => {
  it('gives the same tests whether built whole, in slices, or begun and left', () => {
    for (const [level, kind] of [
      [2, 'melody'],
      [6, 'rhythm'],
      [7, 'melody'],
    ] as const) {
      const [whole, sliced, begun] = [fresh(level), fresh(level), fresh(level)];
      let slices = 0;
      for (const pause of prepareLevel(sliced, { kind })) slices += pause === undefined ? 1 : 0;
      expect(slices).toBeGreaterThan(10);
      prepareLevel(begun, { kind }).next();
      expect([made(sliced, kind), made(begun, kind)]).toEqual([made(whole, kind), made(whole, kind)]);
    }
  });

  it('refuses limits that contradict each other every time, ahead and after', () => {
    const level = { ...fresh(1), maxLeap: 1 };
    const ahead = () => [...prepareLevel(level, { kind: 'melody' })];
    for (const ask of [ahead, ahead, () => made(level, 'melody'), () => made(level, 'melody')])
      expect(ask).toThrow(/finds no melody with these limits/);
  });
});
