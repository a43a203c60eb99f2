import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  ExchangeError,
  fromListCode,
  isListCode,
  listCode,
  testFromHash,
  testFromWholeCode,
  testLink,
  wholeCode,
} from '../../../src/exchange/index.ts';
import { checkTask } from '../../../src/music/schema/index.ts';
import { bpm } from '../../../src/music/units.ts';
import { makeChords, makeReading, makeTest, parseTest } from '../../../src/tests-engine/index.ts';
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
    for (const later of ['6', '9'])
      refuses(() => testFromWholeCode(later + wholeCode(plain).slice(1)), /made by a newer Twobar; update/);
    refuses(() => testFromWholeCode('1abc defgh'), /incomplete or mistyped/);
    refuses(() => testFromWholeCode(`1${'A'.repeat(30_000)}`), /far more than any test/);
  });
  it('made by a stranger is still checked as a test', () => {
    const forged = testFromWholeCode(wholeCode({ ...plain, style: 'polka' }));
    expect(() => parseTest(forged)).toThrow(/style/);
  });
});

describe('the code of several tests', () => {
  const mixed = (count: number) =>
    Array.from({ length: count }, (_, i) =>
      makeTest({
        ...{ kind: i % 2 === 0 ? 'melody' : 'rhythm', level: 1 + (i % 5), seed: 1000 + i },
        instrument: 'guitar',
      }),
    );
  const about = { homeworkId: 'a1b2c3d4e5f60718293a4b5c6d7e8f90', manner: 'strict', text: 'Sing it first.' };

  it('brings all of them back with what was said, and cut short or mistyped it is refused', () => {
    const code = listCode(about, mixed(5));
    expect(fromListCode(code)).toEqual({ about, tests: mixed(5) });
    const last = code.at(-9) === 'A' ? 'B' : 'A';
    for (const wrong of [code.slice(0, -3), `${code.slice(0, -9)}${last}${code.slice(-8)}`, '3', ''])
      expect(() => fromListCode(wrong)).toThrow(ExchangeError);
  });

  it('holds tasks of any kind, under a sign that an earlier reader takes for a later version', () => {
    const chords = makeChords({
      seed: 4,
      families: ['open'],
      how: 'progression',
      voicing: 'shape',
      count: 8,
    });
    const page = makeReading({ level: 2, seed: 3, instrument: 'guitar' });
    const code = listCode(about, [...mixed(2), chords, page]);
    expect([code[0], listCode(about, mixed(2))[0]]).toEqual(['4', '3']);
    expect(fromListCode(code)).toEqual({ about, tests: [...mixed(2), chords, page] });
    for (const task of [chords, page]) {
      const alone = wholeCode(task);
      expect(alone[0]).toBe('5');
      const read = testFromWholeCode(alone);
      expect(read).toEqual(task);
      expect(checkTask(read)).toEqual({ task });
    }
    const forged = testFromWholeCode(wholeCode({ ...chords, tempoBpm: bpm(1) }));
    expect(checkTask(forged)).toMatchObject({
      why: 'none',
      wrong: expect.stringMatching(/^tempoBpm/) as string,
    });
    expect(checkTask({ ...chords, version: 2 })).toMatchObject({ why: 'newer' });
  });

  it('that says more than the first readers knew of stands under a sign that they take for a later version', () => {
    const more = { ...about, asks: 'pa' };
    const code = listCode(more, mixed(2), true);
    // What the first readers of lists took for a later version: their /^[5-9]/.
    expect(code).toMatch(/^[5-9]/);
    expect(isListCode(code)).toBe(true);
    expect(fromListCode(code)).toEqual({ about: more, tests: mixed(2) });
  });

  it('of ten is shorter than theirs one by one: what they share is written once', () => {
    expect(listCode(about, mixed(10)).length).toBeLessThan(0.85 * mixed(10).map(wholeCode).join('').length);
  });
});
