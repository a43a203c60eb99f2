import { describe, expect, it } from 'vitest';
import { createTrees } from '../../../src/dsp/decision/trees.ts';
import { FEATURES } from '../../../src/dsp/decision/features.ts';
import { FIRST_LOOK } from '../../../src/dsp/decision/weights.ts';
import { boost } from '../../../src/training/boost.ts';
import { BOOST } from '../../../src/training/options.ts';

describe('the boosted decision', () => {
  const examples = Array.from({ length: 800 }, (_, i) => {
    const a = ((i * 37) % 101) / 50 - 1;
    const b = ((i * 53) % 97) / 48 - 1;
    return { features: [a, b], label: (a * b > 0 ? 1 : 0) as 0 | 1, weight: 1 };
  });

  it('learns what no line can part: that two features have the same sign', () => {
    const decide = createTrees(boost(['a', 'b'], examples, BOOST), ['a', 'b']);
    const wrong = examples.filter((e) => decide(e.features) > 0.5 !== (e.label === 1)).length;
    expect(wrong).toBeLessThan(24);
  });

  it('finds its features by name and says which one is missing', () => {
    const data = boost(['a', 'b'], examples, { ...BOOST, trees: 5 });
    const swapped = createTrees(data, ['b', 'a']);
    const straight = createTrees(data, ['a', 'b']);
    expect(swapped([0.7, -0.4])).toBe(straight([-0.4, 0.7]));
    expect(() => createTrees(data, ['a'])).toThrow(/looks at "b", which is not measured/);
  });

  it('the committed trees read only what is measured, and answer with probabilities', () => {
    const decide = createTrees(FIRST_LOOK, FEATURES);
    for (const x of [-3, 0, 3]) {
      const p = decide(FEATURES.map(() => x));
      expect(p).toBeGreaterThan(0);
      expect(p).toBeLessThan(1);
    }
  });
});
