import { middle } from '../../music/numbers.ts';
import { estimate } from './estimate.ts';
import { partsOf, type PartId } from './parts.ts';
import type { Channel, Practised } from './types.ts';

/** One small thing in a month: how many notes of it were met, and how many were right. */
export interface PartCount {
  readonly part: PartId;
  readonly channel: Channel;
  readonly seen: number;
  readonly right: number;
}

/** What a student did in a month, as exam and with help together unless it says otherwise. */
export interface MonthFacts {
  readonly tests: number;
  /** Of those, tests without help. */
  readonly strict: number;
  readonly there: number;
  /** Median mark of the tests without help; null with none that was marked. */
  readonly median: number | null;
  /** Lowest and highest level played; null where only phrases of the teacher's own were. */
  readonly levels: readonly [number, number] | null;
  readonly parts: readonly PartCount[];
}

function partsIn(record: readonly Practised[]): PartCount[] {
  const both = (['strict', 'relaxed'] as const).map((manner) => estimate(record, manner));
  return (['pitch', 'time'] as const).flatMap((channel) =>
    partsOf(channel).flatMap((part, i) => {
      const seen = both.reduce((sum, one) => sum + (one[channel].seen[i] ?? 0), 0);
      const right = both.reduce((sum, one) => sum + (one[channel].rightSeen[i] ?? 0), 0);
      return seen === 0 ? [] : [{ part, channel, seen, right }];
    }),
  );
}

/** The facts of one month; `own`: what was played in it. Which that is, the caller's calendar says. */
export function monthFacts(own: readonly Practised[]): MonthFacts {
  const strict = own.filter(({ manner }) => manner === 'strict');
  const levels = own.flatMap(({ level }) => (level === null ? [] : [level]));
  return {
    tests: own.length,
    strict: strict.length,
    there: own.filter(({ outcome }) => outcome === 'there').length,
    median: middle(strict.flatMap(({ mark }) => (mark === null ? [] : [mark]))),
    levels: levels.length === 0 ? null : [Math.min(...levels), Math.max(...levels)],
    parts: partsIn(own),
  };
}

/** A part in two months. */
export interface PartChange {
  readonly part: PartId;
  readonly channel: Channel;
  readonly before: PartCount;
  readonly after: PartCount;
}

/** Of fewer notes in a month nothing is said of a part. */
const LEAST = 8;
/**
 * Two shares differ when they lie this many standard errors apart: of some thirty parts one at most is named by chance
 * (two-sided, 0.03).
 */
const APART = 2.2;

const share = ({ right, seen }: PartCount): number => right / seen;
/** Standard error of a share, by Agresti and Coull: two of each kind added, so that 8 of 8 is not certainty. */
const variance = ({ right, seen }: PartCount): number => {
  const p = (right + 2) / (seen + 4);
  return (p * (1 - p)) / (seen + 4);
};

/** What has become better or worse between two months, the largest change first; changes within chance are left out. */
export function changes(
  before: MonthFacts,
  after: MonthFacts,
): { better: PartChange[]; worse: PartChange[] } {
  const both = after.parts.flatMap((now): PartChange[] => {
    const then = before.parts.find(({ part, channel }) => part === now.part && channel === now.channel);
    if (!then || then.seen < LEAST || now.seen < LEAST) return [];
    const apart = Math.abs(share(now) - share(then)) / Math.sqrt(variance(now) + variance(then));
    return apart < APART ? [] : [{ part: now.part, channel: now.channel, before: then, after: now }];
  });
  const gain = ({ before: then, after: now }: PartChange): number => share(now) - share(then);
  return {
    better: both.filter((one) => gain(one) > 0).sort((a, b) => gain(b) - gain(a)),
    worse: both.filter((one) => gain(one) < 0).sort((a, b) => gain(a) - gain(b)),
  };
}

/** What is met most often wrong in a month: something to practise next; up to three. */
export const hardest = (facts: MonthFacts): PartCount[] =>
  facts.parts
    .filter(({ seen, right }) => seen >= LEAST && right < seen)
    .sort((a, b) => share(a) - share(b))
    .slice(0, 3);
