import { checkTest } from '../../../music/schema/index.ts';
import type { PracticeTest } from '../../../music/score.ts';

/** A JSON value that is not a test. `message` is one sentence naming what is wrong and where, and a remedy. */
export class TestFormatError extends Error {
  override readonly name = 'TestFormatError';
}

/**
 * Checks an unknown value and hands it back as a test.
 * @throws TestFormatError when anything is missing, unknown, out of range or contradicts itself.
 */
export function parseTest(json: unknown): PracticeTest {
  const checked = checkTest(json);
  if ('test' in checked) return checked.test;
  const { why, wrong } = checked;
  throw new TestFormatError(
    why === 'newer'
      ? `This test was made by a newer Twobar: ${wrong}; update Twobar or ask for an older export.`
      : `This is not a test Twobar can read: ${wrong}; make the test again or ask its sender for a fresh copy.`,
  );
}
