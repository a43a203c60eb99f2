import { describe, expect, it } from 'vitest';
import { makeRandom } from '../../audio-fixtures/random.ts';

describe('the fixtures’ random numbers', () => {
  it('are mulberry32’s, in integers: the published generator gives the same', () => {
    // Reference form, in doubles where the original is in C's uint32_t.
    let a = 123456789;
    const reference = (): number => {
      a = (a + 0x6d2b79f5) | 0;
      let t = Math.imul(a ^ (a >>> 15), 1 | a);
      t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
      return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
    };
    const random = makeRandom(123456789);
    for (let i = 0; i < 1000; i++) expect(random.next()).toBe(reference());
  });
  it('give a fork that neither moves the parent nor repeats it', () => {
    const a = makeRandom(7);
    const b = makeRandom(7);
    const forked = a.fork('room');
    forked.next();
    expect(a.next()).toBe(b.next());
    expect(makeRandom(7).fork('room').next()).not.toBe(makeRandom(7).next());
    expect(makeRandom(7).fork('room').next()).toBe(makeRandom(7).fork('room').next());
  });
  it('keep both ends of a whole-number range', () => {
    const random = makeRandom(3);
    const seen = new Set(Array.from({ length: 300 }, () => random.whole(-1, 2)));
    expect([...seen].sort((x, y) => x - y)).toEqual([-1, 0, 1, 2]);
  });
  it('refuse a seed that is no unsigned 32-bit number', () => {
    for (const seed of [-1, 1.5, NaN, 2 ** 32])
      expect(() => makeRandom(seed)).toThrow(
        new RangeError(`seed must be a whole number 0…4294967295, got ${seed}`),
      );
  });
});
