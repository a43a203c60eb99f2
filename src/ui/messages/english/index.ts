import { ADVICE, ADVICE_OF_KNOWN } from './advice.ts';
import { CHORD_DOUBTS, CHORD_MESSAGES, CHORD_SENTENCES, CHORD_SPOKEN } from './chords.ts';
import { DRILL_MESSAGES } from './drills.ts';
import { FIRST } from './first.ts';
import { IMPROVISING_MESSAGES, TOLD, TOLD_FACTS } from './improvising.ts';
import { LATENCY_MESSAGES } from './latency.ts';
import { PIECES_MESSAGES } from './pieces.ts';
import { PHRASES_MESSAGES } from './phrases.ts';
import { IMPORT_PROBLEMS, PART_WORDS, PRACTICE_MESSAGES, STORE_PROBLEMS } from './practice.ts';
import { NOT_MARKED } from './problems.ts';
import { READING_MESSAGES } from './reading.ts';
import { RECORD_MESSAGES } from './record.ts';
import { STUDIO_MESSAGES } from './studio.ts';
import { REFUSALS } from './refusals.ts';
import { REPORT_MESSAGES } from './report.ts';
import { SCALES_MESSAGES } from './scales.ts';
import { SITTING_MESSAGES } from './sitting.ts';

/**
 * Everything that a user reads, in English: the source that every other language follows, and its type.
 * `{name}` stands for a value; a translation keeps the names. What depends on a number is a `Plural`.
 * The voice: short, kind, second person, the trade's words; what went wrong comes with what to do next.
 */
export const ENGLISH = {
  ...FIRST,
  texts: {
    ...FIRST.texts,
    ...PHRASES_MESSAGES,
    ...PRACTICE_MESSAGES,
    ...PIECES_MESSAGES,
    ...READING_MESSAGES,
    ...SCALES_MESSAGES,
    ...IMPROVISING_MESSAGES,
    ...LATENCY_MESSAGES,
    ...RECORD_MESSAGES,
    ...CHORD_MESSAGES,
    ...DRILL_MESSAGES,
    ...REPORT_MESSAGES,
    ...SITTING_MESSAGES,
    ...STUDIO_MESSAGES,
  },
  advice: ADVICE,
  adviceOfKnown: ADVICE_OF_KNOWN,
  notMarked: NOT_MARKED,
  parts: PART_WORDS,
  storeProblems: STORE_PROBLEMS,
  importProblems: IMPORT_PROBLEMS,
  refusals: REFUSALS,
  chordSentences: CHORD_SENTENCES,
  chordDoubts: CHORD_DOUBTS,
  chordSpoken: CHORD_SPOKEN,
  told: TOLD,
  toldFacts: TOLD_FACTS,
} as const;
