/** How a take came off, in a word. */
export type Outcome = 'there' | 'close' | 'not-yet';

/** Lowest marks for "there" and for "close", 0…100, `close` under `there`; a teacher's to set. */
export interface Thresholds {
  readonly there: number;
  readonly close: number;
}

/** On the graded takes a panel's 3.5 to 4 of 4 has a median mark of 90 and more, its 1.5 to 2.5 of 63 (`tests-engine/marks`). */
export const DEFAULT_THRESHOLDS: Thresholds = { there: 85, close: 65 };

/** The word for a mark of 0…100. */
export function outcomeOf(mark: number, { there, close }: Thresholds): Outcome {
  return mark >= there ? 'there' : mark >= close ? 'close' : 'not-yet';
}
