import { checkTest } from '../../../music/schema/index.ts';
import { Refusal, type Thrown } from '../../../music/refusal.ts';
import type { PracticeTest } from '../../../music/score.ts';
import { REFUSALS, type RefusalsOf } from '../../refusals/index.ts';

/** A JSON value that is not a test. `message` is one sentence naming what is wrong and where, and a remedy. */
export class TestFormatError extends Refusal<keyof RefusalsOf<'test'>> {
  override readonly name = 'TestFormatError';
  constructor(...thrown: Thrown<RefusalsOf<'test'>>) {
    super(REFUSALS, thrown);
  }
}

/**
 * Checks an unknown value and hands it back as a test.
 * @throws TestFormatError when anything is missing, unknown, out of range or contradicts itself.
 */
export function parseTest(json: unknown): PracticeTest {
  const checked = checkTest(json);
  if ('test' in checked) return checked.test;
  const { why, wrong } = checked;
  throw new TestFormatError(why === 'newer' ? 'test-newer' : 'test-unread', { wrong });
}
