import * as v from 'valibot';
import { QUESTION_COUNTS, QUESTION_FORMS } from '../question.ts';

/** How a homework asks about its rhythms, and whether a wrong answer counts. */
export const questionSet = v.strictObject({
  form: v.picklist(QUESTION_FORMS),
  counts: v.picklist(QUESTION_COUNTS),
});
