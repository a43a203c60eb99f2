import { barTicks, feltBeats } from './metre.ts';
import type { Phrase, PracticeTest } from './score.ts';

/**
 * What is asked after a rhythm. `which`: two written rhythms, which of them was it. With help also: `beat`, the other
 * rhythm alone, at which beat does it differ from what was heard; `part`, both on one time axis, where do they part.
 */
export type QuestionForm = 'which' | 'beat' | 'part';
export const QUESTION_FORMS = ['which', 'beat', 'part'] as const satisfies readonly QuestionForm[];

/** What the player said: a letter, or a beat of the phrase counted from 0 through all its bars. */
export type Answer = 'A' | 'B' | { readonly form: 'beat' | 'part'; readonly beat: number };

/** A beat as it is counted: bar and beat from 1, and its span from the first bar line. */
export interface CountedBeat {
  readonly bar: number;
  readonly beat: number;
  readonly startTicks: number;
  readonly endTicks: number;
}

/** Every beat of a phrase in order: crotchets in 4/4, dotted crotchets in 6/8, groups in 7/8. */
export function countedBeats({ metre, bars }: Pick<Phrase, 'metre' | 'bars'>): readonly CountedBeat[] {
  const whole = barTicks(metre);
  const starts = feltBeats(metre);
  return Array.from({ length: bars }, (_, bar) =>
    starts.map((start, i) => ({
      bar: bar + 1,
      beat: i + 1,
      startTicks: bar * whole + start,
      endTicks: bar * whole + (starts[i + 1] ?? whole),
    })),
  ).flat();
}

const struckIn = ({ notes }: Phrase, { startTicks, endTicks }: CountedBeat): string =>
  notes
    .map((note) => note.startTicks)
    .filter((at) => at >= startTicks && at < endTicks)
    .join();

/**
 * The beats, by index, in which the two rhythms of a question are not struck alike; how long a note is held is not
 * asked. A rhythm of a question always has one; none without a question.
 */
export function differingBeats({ phrase, question }: Pick<PracticeTest, 'phrase' | 'question'>): number[] {
  if (!question) return [];
  return countedBeats(phrase).flatMap((beat, i) =>
    struckIn(phrase, beat) === struckIn(question.other, beat) ? [] : [i],
  );
}

/** The form that was answered. */
export const formOf = (answer: Answer): QuestionForm => (typeof answer === 'string' ? 'which' : answer.form);

/**
 * Whether the answer is right; null where the test asks nothing. Two rhythms part at the first beat that differs;
 * where the other differs from what was heard, any beat at which it does is right.
 */
export function isRight(test: Pick<PracticeTest, 'phrase' | 'question'>, answer: Answer): boolean | null {
  if (!test.question) return null;
  if (typeof answer === 'string') return answer === test.question.answer;
  const differ = differingBeats(test);
  return answer.form === 'part' ? differ[0] === answer.beat : differ.includes(answer.beat);
}

/** Whether a wrong answer holds the outcome back: only in the strict manner, always, or never. */
export type QuestionCounts = 'strict' | 'always' | 'never';
export const QUESTION_COUNTS = ['strict', 'always', 'never'] as const satisfies readonly QuestionCounts[];

/** Whether a wrong answer counts in a manner. */
export const countsIn = (counts: QuestionCounts, manner: 'strict' | 'relaxed'): boolean =>
  counts === 'always' || counts === manner;

/** How a homework asks about its rhythms, and whether a wrong answer counts: the teacher's word for that homework. */
export interface QuestionSet {
  readonly form: QuestionForm;
  readonly counts: QuestionCounts;
}

/** The mark with an outcome that a wrong answer holds back: the notes may be right, but it was not "there". */
export const heldBack = <M extends { readonly outcome: 'there' | 'close' | 'not-yet' | null }>(mark: M): M =>
  mark.outcome === 'there' ? { ...mark, outcome: 'close' } : mark;
