import { middle } from '../../music/numbers.ts';
import { estimate, weakest } from './estimate.ts';
import type { PartEstimate } from './estimate.ts';
import type { Practised } from './types.ts';

/** One student's last seven days against the four weeks before: with their own past, with nobody else. */
export interface Week {
  readonly tests: number;
  readonly there: number;
  /** Median mark of the week and of the four weeks before; null with no marked test in it. */
  readonly median: number | null;
  readonly medianBefore: number | null;
  /** Up to three parts whose upper limit lies under the student's usual chance: trouble, not bad luck. */
  readonly trouble: readonly PartEstimate[];
  readonly lastAtMs: number | null;
}

const DAY_MS = 86_400_000;

/** `record`: all of one student's attempts; those of the other manner are passed over. */
export const weekOf = (record: readonly Practised[], manner: Practised['manner'], nowMs: number): Week => ({
  ...weekCounts(record, manner, nowMs),
  trouble: troubles(record, manner),
});

/** The numbers of the week alone; the attempts of the last 35 days are enough for all but `lastAtMs`. */
export function weekCounts(
  record: readonly Practised[],
  manner: Practised['manner'],
  nowMs: number,
): Omit<Week, 'trouble'> {
  const own = record.filter((attempt) => attempt.manner === manner);
  const between = (fromDay: number, toDay: number) =>
    own.filter(({ atMs }) => atMs > nowMs - fromDay * DAY_MS && atMs <= nowMs - toDay * DAY_MS);
  const week = between(7, 0);
  const marks = (of: readonly Practised[]) => of.flatMap(({ mark }) => (mark === null ? [] : [mark]));
  return {
    tests: week.length,
    there: week.filter(({ outcome }) => outcome === 'there').length,
    median: middle(marks(week)),
    medianBefore: middle(marks(between(35, 7))),
    lastAtMs: own.reduce<number | null>(
      (last, { atMs }) => (last === null || atMs > last ? atMs : last),
      null,
    ),
  };
}

/**
 * One-sided 5 % shared among some 20 parts that a student meets (Bonferroni): z(0.05 / 20). At z(0.05) one
 * of three unlucky students was told of a trouble after three tests.
 */
const SURE = 2.81;

/** Up to three weakest parts that are surely under the student's own level in that channel. */
export function troubles(record: readonly Practised[], manner: Practised['manner']): PartEstimate[] {
  return weakest(estimate(record, manner))
    .filter(({ effect, effectSd }) => effect + SURE * effectSd < 0)
    .slice(0, 3);
}
