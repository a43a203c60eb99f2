import type { PracticeTest } from '../../music/score.ts';
import { grooveNamed } from './arrange/grooves.ts';
import { progression } from './harmony/progression.ts';

/**
 * A test with the harmony of its backing, found from its phrase, key, style and level; one that it had is
 * replaced. Everything that makes or changes a phrase ends here.
 * @throws RangeError for a key or style that is none.
 */
export function harmonised(test: PracticeTest): PracticeTest {
  const { fullness } = grooveNamed(test.style);
  const { procedure, ...rest } = test;
  return {
    ...rest,
    backing: { arranger: 2, chords: progression({ ...test, fullness }) },
    procedure,
  };
}
