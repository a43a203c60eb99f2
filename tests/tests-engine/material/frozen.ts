import { type GENERATORS, LEVELS, makeTest } from '../../../src/tests-engine/material/index.ts';

/**
 * The hash of 1,000 tests of each generator, the same in Node and in every browser. That of an earlier generator
 * never changes. That of the last changes when the same request gives another test: then the generator before it is
 * kept beside the new one, GENERATOR_VERSION (src/tests-engine/material/makeTest.ts) is raised and a hash added.
 */
export const FROZEN: Readonly<Record<number, string>> = {
  1: '7bf40d65',
  2: '575ac428',
  3: '53871e7d',
  4: '663accde',
};

/** FNV-1a, 32 bits, over the JSON of 50 seeds of each kind and level; guitar and bass in turn. */
export function hashOfThousand(generator: (typeof GENERATORS)[number]): string {
  let hash = 0x811c9dc5;
  for (const kind of ['melody', 'rhythm'] as const)
    for (let level = 1; level <= LEVELS.length; level++)
      for (let i = 0; i < 50; i++) {
        // Seeds all over the 32 bits: 2654435761 is odd, so the products never repeat.
        const seed = Math.imul(i + 1, 2654435761) >>> 0;
        const test = makeTest({ kind, level, seed, instrument: i % 2 === 0 ? 'guitar' : 'bass' }, generator);
        for (const byte of new TextEncoder().encode(JSON.stringify(test)))
          hash = Math.imul(hash ^ byte, 0x01000193) >>> 0;
      }
  return hash.toString(16).padStart(8, '0');
}
