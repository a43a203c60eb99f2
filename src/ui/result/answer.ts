import { countedBeats, differingBeats, formOf, isRight, type Answer } from '../../music/question.ts';
import type { PracticeTest } from '../../music/score.ts';
import { t } from '../messages.ts';

const placeOf = (test: PracticeTest, index: number): string => {
  const at = countedBeats(test.phrase)[index];
  return at ? t('result.answer.place', { bar: at.bar, beat: at.beat }) : '';
};

/** What was answered and what would have been right, in one line. */
export function answerText(test: PracticeTest, answer: Answer): string {
  const right = isRight(test, answer) === true;
  if (typeof answer === 'string')
    return right
      ? t('result.answer.right', { chosen: answer })
      : t('result.answer.wrong', { chosen: answer, answer: test.question?.answer ?? '' });
  const form = formOf(answer) === 'part' ? 'part' : 'beat';
  const said = placeOf(test, answer.beat);
  if (right) return t(`result.answer.${form}.right`, { said });
  return t(`result.answer.${form}.wrong`, { said, where: placeOf(test, differingBeats(test)[0] ?? 0) });
}
