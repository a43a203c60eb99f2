import type { PracticeTest } from '../../music/score.ts';
import { ARRANGERS, type Arranger } from '../../music/styles.ts';
import { grooveNamed } from './arrange/grooves.ts';
import { progression } from './harmony/progression.ts';

/**
 * A test with the harmony of its backing, found from its phrase, key, style and level; one that it had is
 * replaced. Everything that makes or changes a phrase ends here.
 * @param arranger the present one; an earlier one for tests of its time
 * @throws RangeError for a key or style that is none.
 */
export function harmonised(test: PracticeTest, arranger: Arranger = ARRANGERS.at(-1)!): PracticeTest {
  const { fullness } = grooveNamed(test.style);
  const { procedure, ...rest } = test;
  return {
    ...rest,
    backing: { arranger, chords: progression({ ...test, fullness }, arranger) },
    procedure,
  };
}
