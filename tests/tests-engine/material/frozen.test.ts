import { expect, it } from 'vitest';
import { GENERATORS, GENERATOR_VERSION } from '../../../src/tests-engine/material/index.ts';
import { FROZEN, hashOfThousand } from './frozen.ts';

it.each(GENERATORS)(
  '1,000 tests of generator %i hash to the frozen value',
  (generator) => {
    expect(hashOfThousand(generator)).toBe(FROZEN[generator]);
    expect(GENERATORS.at(-1)).toBe(GENERATOR_VERSION);
  },
  600_000,
);
