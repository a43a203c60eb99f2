import type { PracticeTest } from '../../score.ts';

/** Makes the test after one that was not asked for on the start page. */
export type Next = () => PracticeTest;

const after = new WeakMap<PracticeTest, Next>();

/** From now on `next` says what comes after this test: the next of a list, another of a level. */
export function follow(test: PracticeTest, next: Next): void {
  after.set(test, next);
}

/** The test that follows, itself followed in the same way; null where the start page's settings decide. */
export function following(test: PracticeTest | null): PracticeTest | null {
  const next = test ? after.get(test) : undefined;
  if (!next) return null;
  const made = next();
  follow(made, next);
  return made;
}
