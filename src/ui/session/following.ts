import type { PracticeTest } from '../../music/score.ts';
import { makeTest } from '../../tests-engine/index.ts';

/** Makes the test after one that was not asked for on the start page. */
export type Next = () => PracticeTest;

const after = new WeakMap<PracticeTest, Next>();

/** From now on `next` says what comes after this test: the next of a list, another of a level. */
export function follow(test: PracticeTest, next: Next): void {
  after.set(test, next);
}

/**
 * What comes after a test that was opened from a link or a file: others of its kind, level and instrument, for whoever
 * opened it practises that level now, whatever the start page says. null for one without a level of ours: a phrase of
 * a teacher's own has no others like it.
 */
export function othersLike(test: PracticeTest, seed: () => number): Next | null {
  const { kind, level, instrument, tuning } = test;
  return level === null ? null : () => makeTest({ kind, level, instrument, tuning, seed: seed() });
}

/** The test that follows, itself followed in the same way; null where the start page's settings decide. */
export function following(test: PracticeTest | null): PracticeTest | null {
  const next = test ? after.get(test) : undefined;
  if (!next) return null;
  let made: PracticeTest;
  try {
    made = next();
  } catch (error) {
    // A tuning or a key that came with the test and that its level cannot do.
    if (error instanceof RangeError) return null;
    throw error;
  }
  follow(made, next);
  return made;
}
