import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { testFromHash } from '../../../src/exchange/index.ts';
import { parseTest, shortCode, testFromCode, wholeSheet } from '../../../src/tests-engine/index.ts';

/** Codes, links and hashes written by each earlier generator when it was the present one. Never regenerated. */
const OLD = [1, 2, 3].flatMap(
  (version) =>
    JSON.parse(
      readFileSync(new URL(`fixtures/made-by-${version}.json`, import.meta.url), 'utf8'),
    ) as readonly { code: string; hash: string; test: string; sound: string }[],
);

/** FNV-1a, 32 bits, over the bytes of a JSON text. */
function hashOf(value: unknown): string {
  let hash = 0x811c9dc5;
  for (const byte of new TextEncoder().encode(JSON.stringify(value)))
    hash = Math.imul(hash ^ byte, 0x01000193) >>> 0;
  return hash.toString(16).padStart(8, '0');
}

describe.each(OLD)('the code $code from before', ({ code, hash, test, sound }) => {
  it('opens the very same test', () => {
    const opened = testFromCode(code);
    expect(hashOf(opened)).toBe(test);
    expect(shortCode(opened)).toBe(code);
  });
  it('and so does its link', () => {
    expect(hashOf(parseTest(testFromHash(hash)))).toBe(test);
  });
  it('which sounds as it did, cue for cue', () => {
    expect(hashOf(wholeSheet(testFromCode(code)))).toBe(sound);
  });
});
