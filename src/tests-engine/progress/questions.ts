import { QUESTION_FORMS, type QuestionForm } from '../../music/question.ts';
import type { Practised } from './types.ts';

/** How often the question about a rhythm was answered right, by how it was asked; forms never met are left out. */
export function questionCounts(
  record: readonly Practised[],
): { readonly form: QuestionForm; readonly right: number; readonly of: number }[] {
  return QUESTION_FORMS.flatMap((form) => {
    const met = record.flatMap(({ question }) => (question?.form === form ? [question] : []));
    return met.length === 0 ? [] : [{ form, right: met.filter(({ right }) => right).length, of: met.length }];
  });
}
