import { describe, expect, it } from 'vitest';
import type { PracticeTest } from '../../src/music/score.ts';
import { LEVELS, levelTest, makeTest, TUNINGS } from '../../src/tests-engine/index.ts';
import { follow, following, othersLike } from '../../src/ui/session/following.ts';

function counter(): () => number {
  let seed = 100;
  return () => seed++;
}
/** This test and the `count` that come after it; null where the start page decides. */
function chain(first: PracticeTest, count: number): (PracticeTest | null)[] {
  const tests: (PracticeTest | null)[] = [first];
  for (let k = 0; k < count; k++) tests.push(following(tests[k]!));
  return tests;
}

describe('the test after this one', () => {
  it('of a level of the teacher’s own is another of that very level, as long as one goes on', () => {
    const level = { ...LEVELS[3]!, name: 'Steps in three', tempo: [71, 71, 1] as const };
    const own = { ...level, metres: level.metres.filter(({ metre }) => metre === '3/4') };
    const seed = counter();
    const next = () => levelTest(own, { kind: 'melody', instrument: 'bass', seed: seed() });
    const first = next();
    follow(first, next);
    const tests = chain(first, 6);
    for (const test of tests) {
      expect(test).toMatchObject({ kind: 'melody', instrument: 'bass', level: null, tempoBpm: 71 });
      expect(test!.phrase.metre).toMatchObject({ beats: 3, beatUnit: 4 });
    }
    expect(new Set(tests.map((test) => JSON.stringify(test!.phrase))).size).toBe(7);
  });

  it('opened from a link is another of its kind, level, instrument and tuning', () => {
    const tuning = TUNINGS.find((x) => x.instrument === 'bass' && x.id !== 'bass')!.strings;
    const linked = makeTest({ kind: 'rhythm', level: 7, instrument: 'bass', tuning, seed: 5 });
    follow(linked, othersLike(linked, counter())!);
    const tests = chain(linked, 4);
    for (const test of tests)
      expect(test).toMatchObject({ kind: 'rhythm', level: 7, instrument: 'bass', tuning });
    expect(new Set(tests.map((test) => JSON.stringify(test!.phrase))).size).toBe(5);
  });

  it('is the start page’s to decide after a phrase without a level, and after a test that was asked for there', () => {
    const phrase = { ...makeTest({ kind: 'melody', level: 2, instrument: 'guitar', seed: 1 }), level: null };
    expect(othersLike(phrase, counter())).toBeNull();
    expect(following(phrase)).toBeNull();
    expect(following(null)).toBeNull();
  });

  it('is the start page’s too where the tuning that came with a test cannot hold its level', () => {
    const linked = makeTest({ kind: 'melody', level: 2, instrument: 'guitar', seed: 1 });
    const strange = { ...linked, tuning: [12, 12, 12, 12] as unknown as PracticeTest['tuning'] };
    follow(strange, othersLike(strange, counter())!);
    expect(following(strange)).toBeNull();
  });
});
