import * as v from 'valibot';
import { QUESTION_FORMS, type QuestionForm } from '../../music/question.ts';

/**
 * `strict`: no repeats, no live note name, one take. `relaxed`: repeat, slower, by halves, first note again,
 * live note name. Stored with every attempt; the two are never mixed in progress or estimates.
 */
export type Manner = 'strict' | 'relaxed';

export interface ProcedureSettings {
  readonly manner: Manner;
  /** Times the phrase is heard, 1…10; null = the test's own number. */
  readonly hearings: number | null;
  /** Length of the practice window, 0…600 s; null = the test's own. */
  readonly practiceSec: number | null;
  /** What "a little longer" adds to the window, 5…120 s. */
  readonly extendSec: number;
  /** Tempo against the test's own, 0.25…1.5; strict always 1. */
  readonly tempoFactor: number;
  /** What "slower" multiplies the tempo by, 0.5…0.95. */
  readonly slowerBy: number;
  /** `click` where the language has no voice. */
  readonly count: 'spoken' | 'click';
  /** How a rhythm is asked about; strict always `which`. */
  readonly question: QuestionForm;
}

/** Common practice, no source, except where a reason stands beside it. */
export const DEFAULT_SETTINGS: ProcedureSettings = {
  manner: 'relaxed',
  hearings: null,
  practiceSec: null,
  extendSec: 15,
  tempoFactor: 1,
  // A quarter slower is plainly slower, and still the same piece of music.
  slowerBy: 0.75,
  count: 'spoken',
  question: 'which',
};

/** Slower than this a phrase falls apart into single notes. */
export const SLOWEST = 0.25;

const between = (low: number, high: number, name: string) =>
  v.pipe(
    v.number(`${name} must be a number`),
    v.check(
      (x) => x >= low && x <= high,
      ({ input }) => `${name} must lie between ${low} and ${high}, got ${String(input)}`,
    ),
  );
const whole = (low: number, high: number, name: string) =>
  v.pipe(
    between(low, high, name),
    v.check(
      (x: number) => Number.isInteger(x),
      ({ input }) => `${name} must be a whole number, got ${input}`,
    ),
  );

const SETTINGS = v.pipe(
  v.strictObject({
    manner: v.picklist(['strict', 'relaxed']),
    hearings: v.nullable(whole(1, 10, 'hearings')),
    practiceSec: v.nullable(between(0, 600, 'practiceSec')),
    extendSec: between(5, 120, 'extendSec'),
    tempoFactor: between(SLOWEST, 1.5, 'tempoFactor'),
    slowerBy: between(0.5, 0.95, 'slowerBy'),
    count: v.picklist(['spoken', 'click']),
    question: v.picklist(QUESTION_FORMS),
  }),
  v.check(
    (s) => s.manner !== 'strict' || s.tempoFactor === 1,
    ({ input }) => `the strict manner keeps the test’s own tempo, got tempoFactor ${input.tempoFactor}`,
  ),
  v.check(
    (s) => s.manner !== 'strict' || s.question === 'which',
    ({ input }) => `the strict manner asks which of two, got question ${JSON.stringify(input.question)}`,
  ),
);

/**
 * Checks settings from anywhere. A key left out takes its default; an unknown key, a wrong type or a value
 * out of range throws RangeError with the first thing that is wrong.
 */
export function parseSettings(value: unknown): ProcedureSettings {
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw new RangeError(`settings must be an object, got ${value === null ? 'null' : typeof value}`);
  const result = v.safeParse(SETTINGS, { ...DEFAULT_SETTINGS, ...value });
  if (result.success) return result.output;
  const [issue] = result.issues;
  const path = v.getDotPath(issue);
  throw new RangeError(path === null ? issue.message : `settings, ${path}: ${issue.message}`);
}
