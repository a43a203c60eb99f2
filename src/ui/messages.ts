import { ENGLISH } from './messages/english/index.ts';
import { learn, table } from './messages/language.ts';

learn(ENGLISH);

/**
 * The door to all that a user reads, in the language chosen; the texts themselves are in `messages/english` and beside it.
 * What the first page imports takes its texts from `firstMessages.ts`.
 */
export {
  american,
  dateBy,
  fill,
  languageOf,
  LANGUAGES,
  numberText,
  ordinalRule,
  speak,
  speakWith,
  spoken,
  t,
} from './messages/language.ts';
export type { Language, NoteValues } from './messages/language.ts';
export type { Catalogue, MessageKey, Translation } from './messages/catalogue.ts';
export type { Explained } from './messages/types.ts';
export { AUDIO_PROBLEMS, SCALES } from './firstMessages.ts';
export { DOUBTS } from './messages/english/record.ts';

export const MESSAGES = table('texts');
/** The one sentence after a take. */
export const ADVICE = table('advice');
/** The same where nothing was heard before the take; what it lacks is said as after hearing. */
export const ADVICE_OF_KNOWN: Readonly<Partial<Record<string, string>>> = table('adviceOfKnown');
/** Why a take is not marked, or marked with caution. */
export const NOT_MARKED = table('notMarked');
/** The small parts as a student would say them. */
export const PART_WORDS = table('parts');
/** What can stand in the way of keeping the record. */
export const STORE_PROBLEMS = table('storeProblems');
/** Why a file or link was refused. */
export const IMPORT_PROBLEMS = table('importProblems');
/** Why what a file, link, code or table holds was not taken; said by `refusalText`. */
export const REFUSALS = table('refusals');
export const CHORD_SENTENCES = table('chordSentences');
export const CHORD_DOUBTS = table('chordDoubts');
/** Names of chords as they are said aloud. */
export const CHORD_SPOKEN = table('chordSpoken');
export const TOLD = table('told');
export const TOLD_FACTS = table('toldFacts');
