import { expect, it } from 'vitest';
import { phraseSet } from '../../../audio-fixtures/index.ts';
import { bothWays } from '../../bench/marks/realSound.ts';

/** Two melodies and two rhythms on real recorded notes; `npm run bench:marks` does all 48. */
it.each([0, 4, 24, 28])(
  'take %i of real recorded notes gets a mark within 2 of the one from its note list',
  async (index) => {
    const recipe = (await phraseSet())[index]!;
    const { fromList, fromSound } = bothWays(recipe.make(), index + 1);
    expect(fromList.mark).toBeLessThan(100);
    expect(fromSound.mark).not.toBeNull();
    expect(Math.abs(fromSound.mark! - fromList.mark!)).toBeLessThanOrEqual(2);
  },
);
