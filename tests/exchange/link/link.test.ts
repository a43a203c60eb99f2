import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  ExchangeError,
  testFromHash,
  testFromWholeCode,
  testLink,
  wholeCode,
} from '../../../src/exchange/index.ts';
import { makeTest, parseTest } from '../../../src/tests-engine/index.ts';
import { anyTest, plain, plainRhythm } from '../../tests-engine/procedure/some-tests.ts';
import { refuses } from '../options.ts';

describe('a link', () => {
  it('brings back the very same test, whatever the test', () => {
    fc.assert(
      fc.property(anyTest, (test) => {
        expect(testFromWholeCode(wholeCode(test))).toEqual(test);
      }),
      { numRuns: 200 },
    );
  });
  it('carries everything behind the #, and replaces another hash', () => {
    const link = testLink('https://music.example/app/?lang=en#old', plainRhythm);
    const [address, hash] = link.split('#');
    expect(address).toBe('https://music.example/app/?lang=en');
    expect(hash).toMatch(/^test=[A-Za-z0-9_-]+$/);
    expect(testFromHash(`#${hash!}`)).toEqual(plainRhythm);
  });
  it('is no test link with any other hash', () => {
    for (const hash of ['', '#', '#about', '#tests=1']) expect(testFromHash(hash)).toBeNull();
  });
  it('of a made test is short enough to send in a message or print as a square of dots', () => {
    for (const level of [1, 2, 3])
      for (const kind of ['melody', 'rhythm'] as const)
        expect(wholeCode(makeTest({ kind, level, seed: 99, instrument: 'guitar' })).length).toBeLessThan(250);
  });
  it('mistyped in one sign, or cut short, is refused and never another test', () => {
    const code = wholeCode(plain);
    const signs = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_';
    fc.assert(
      fc.property(fc.nat(code.length - 1), fc.nat(63), (at, sign) => {
        const mistyped = code.slice(0, at) + signs[sign]! + code.slice(at + 1);
        fc.pre(mistyped !== code);
        try {
          // The last sign may hold unused bits: then the very same test is allowed.
          expect(testFromWholeCode(mistyped)).toEqual(plain);
        } catch (error) {
          expect(error).toBeInstanceOf(ExchangeError);
        }
      }),
      { numRuns: 1000 },
    );
    for (let length = 0; length < code.length; length++)
      refuses(() => testFromWholeCode(code.slice(0, length)), /link/);
  });
  it('of a later version, or of signs that no code has, says so', () => {
    refuses(() => testFromWholeCode(`3${wholeCode(plain).slice(1)}`), /another version/);
    refuses(() => testFromWholeCode('1abc defgh'), /incomplete or mistyped/);
    refuses(() => testFromWholeCode(`1${'A'.repeat(30_000)}`), /incomplete or mistyped/);
  });
  it('made by a stranger is still checked as a test', () => {
    const forged = testFromWholeCode(wholeCode({ ...plain, style: 'polka' }));
    expect(() => parseTest(forged)).toThrow(/style/);
  });
});
