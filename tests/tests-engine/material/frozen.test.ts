import { expect, it } from 'vitest';
import { GENERATOR_VERSION } from '../../../src/tests-engine/material/index.ts';
import { FROZEN, hashOfThousand } from './frozen.ts';

it('1,000 tests are in Node what they were when this version of the generator was frozen', () => {
  expect({ version: GENERATOR_VERSION, hash: hashOfThousand() }).toEqual(FROZEN);
}, 120_000);
