import { upperMedian } from '../../music/numbers.ts';
import type { TestKind } from '../../music/score.ts';
import { lately, learn, noEstimate } from './estimate.ts';
import type { Estimate } from './estimate.ts';
import type { Belief } from './gaussian.ts';
import { calibrate, noCalibration, notesOf, rawChance, setsOfPractised } from './predict.ts';
import { cameUp, noReturns } from './returns.ts';
import type { Returns } from './returns.ts';
import type { EarPractised, Practised } from './types.ts';

/** All that a choice rests on: what a record says of one student in one manner. */
export interface Knowledge {
  readonly manner: Practised['manner'];
  /** Lowest mark for "there". */
  readonly there: number;
  readonly estimate: Estimate;
  readonly calibration: Readonly<Record<TestKind, Belief>>;
  readonly returns: Returns;
  /** Levels of the last {@link REMEMBERED} attempts of a kind, the newest last; teachers' phrases left out. */
  readonly levels: Readonly<Record<TestKind, number[]>>;
  /** `order` of the newest attempt; 0 with none. */
  order: number;
}

/** The level practised is the middle of the last three: one test of the student's own choice moves nothing. */
const REMEMBERED = 3;

export const noKnowledge = (manner: Practised['manner'], there: number): Knowledge => ({
  manner,
  there,
  estimate: noEstimate(),
  calibration: { melody: noCalibration(), rhythm: noCalibration() },
  returns: noReturns(),
  levels: { melody: [], rhythm: [] },
  order: 0,
});

/** Takes the next attempt in, in place. Attempts must come in order; those of another manner are passed over. */
export function takeIn(knowledge: Knowledge, attempt: EarPractised): void {
  const { manner, there, estimate, calibration, returns, levels } = knowledge;
  if (attempt.manner !== manner) return;
  const { kind, level, outcome } = attempt;
  if (outcome !== null)
    calibrate(
      calibration[kind],
      rawChance(notesOf(estimate, setsOfPractised(attempt)), there),
      outcome === 'there',
    );
  learn(estimate, attempt);
  cameUp(returns, attempt);
  if (level !== null) {
    levels[kind].push(level);
    if (levels[kind].length > REMEMBERED) levels[kind].shift();
  }
  knowledge.order = Math.max(knowledge.order, attempt.order);
}

/** What a whole record says, in any order. */
export function know(record: readonly Practised[], manner: Practised['manner'], there: number): Knowledge {
  const knowledge = noKnowledge(manner, there);
  for (const attempt of lately(record, manner)) takeIn(knowledge, attempt);
  return knowledge;
}

/** The level practised lately; null with none. */
export function presentLevel({ levels }: Knowledge, kind: TestKind): number | null {
  return levels[kind].length === 0 ? null : upperMedian(levels[kind]);
}
