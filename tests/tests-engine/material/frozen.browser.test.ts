import { expect, it } from 'vitest';
import { GENERATOR_VERSION } from '../../../src/tests-engine/material/index.ts';
import { FROZEN, hashOfThousand } from './frozen.ts';

it('1,000 tests are in the browser what they are in Node', () => {
  expect({ version: GENERATOR_VERSION, hash: hashOfThousand() }).toEqual(FROZEN);
}, 120_000);
