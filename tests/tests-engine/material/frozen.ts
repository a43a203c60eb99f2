import { LEVELS, makeTest } from '../../../src/tests-engine/material/index.ts';

/**
 * The hash of 1,000 tests, the same in Node and in every browser. It changes when the same request gives
 * another test: then raise GENERATOR_VERSION (src/tests-engine/material/makeTest.ts) and freeze the new hash.
 */
export const FROZEN = { version: 1, hash: '7bf40d65' };

/** FNV-1a, 32 bits, over the JSON of 50 seeds of each kind and level; guitar and bass in turn. */
export function hashOfThousand(): string {
  let hash = 0x811c9dc5;
  for (const kind of ['melody', 'rhythm'] as const)
    for (let level = 1; level <= LEVELS.length; level++)
      for (let i = 0; i < 50; i++) {
        // Seeds all over the 32 bits: 2654435761 is odd, so the products never repeat.
        const seed = Math.imul(i + 1, 2654435761) >>> 0;
        const test = makeTest({ kind, level, seed, instrument: i % 2 === 0 ? 'guitar' : 'bass' });
        for (const byte of JSON.stringify(test))
          hash = Math.imul(hash ^ byte.charCodeAt(0), 0x01000193) >>> 0;
      }
  return hash.toString(16).padStart(8, '0');
}
