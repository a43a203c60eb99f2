import { INSTRUMENT_MESSAGES, SCALE_NAMES } from './instruments.ts';
import { MAIN_MESSAGES } from './main.ts';
import { AUDIO_PROBLEMS } from './problems.ts';
import { QUESTION_MESSAGES } from './question.ts';

/** What the first page says, its header and the sound that it opens: all other texts come with the pages that say them. */
export const FIRST = {
  texts: { ...MAIN_MESSAGES, ...QUESTION_MESSAGES, ...INSTRUMENT_MESSAGES },
  audioProblems: AUDIO_PROBLEMS,
  scales: SCALE_NAMES,
} as const;
