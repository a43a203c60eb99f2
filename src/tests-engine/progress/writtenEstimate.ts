import type { Shows } from '../../music/task.ts';
import { logistic, logit } from './gaussian.ts';
import type { Practised } from './types.ts';
import { WRITTEN_PARTS, type WrittenPart } from './written.ts';

/**
 * How often each part of reading, or of scales, comes off: a beta distribution a part, from the counts of takes, the
 * older the less. Unlike the parts of hearing they are not told apart from one another where they share a note; that a
 * part has bad company shows as more doubt, not as less skill.
 */
const MODEL = {
  /** What is believed before anything was played: 9 notes of 10, with the weight of so many notes. */
  priorMean: 0.9,
  priorNotes: 6,
  /**
   * Notes of one take go right or wrong together: n of them weigh n / (1 + (n − 1) ρ), the design effect of Kish, "Survey
   * Sampling" (1965), cited from memory; ρ is ours.
   */
  together: 0.1,
  /** A take so many takes back counts 1/e: what was played six weeks ago at two a day. */
  fadesTakes: 80,
} as const;
/** 90 % limits. */
const Z = 1.645;

export interface WrittenEstimate {
  readonly part: WrittenPart;
  readonly seen: number;
  readonly right: number;
  /** Chance 0…1 that a note with this part comes off, and the limits between which it lies with 90 %. */
  readonly chance: number;
  readonly low: number;
  readonly high: number;
}

/**
 * Every part of the kind that was asked at all, in the order of the list.
 * @param shows of pages: only those that were written so; absent: whatever they were written on
 */
export function writtenEstimates(
  record: readonly Practised[],
  kind: 'reading' | 'scale',
  manner: Practised['manner'],
  shows?: Shows,
): WrittenEstimate[] {
  const own = record
    .filter((one) => one.kind === kind && one.manner === manner && one.written !== undefined)
    .filter((one) => shows === undefined || one.shows === shows)
    .sort((a, b) => a.order - b.order);
  const sums = new Map<WrittenPart, { seen: number; right: number; good: number; bad: number }>();
  own.forEach(({ written = [] }, i) => {
    const fade = Math.exp((i + 1 - own.length) / MODEL.fadesTakes);
    for (const [part, right, asked] of written) {
      const sum = sums.get(part) ?? { seen: 0, right: 0, good: 0, bad: 0 };
      const weight = fade / (1 + (asked - 1) * MODEL.together);
      sums.set(part, {
        seen: sum.seen + asked,
        right: sum.right + right,
        good: sum.good + weight * right,
        bad: sum.bad + weight * (asked - right),
      });
    }
  });
  return WRITTEN_PARTS.flatMap((part) => {
    const sum = sums.get(part);
    if (!sum) return [];
    const a = sum.good + MODEL.priorMean * MODEL.priorNotes;
    const b = sum.bad + (1 - MODEL.priorMean) * MODEL.priorNotes;
    const chance = a / (a + b);
    // The logit of a beta variate has nearly the variance 1/a + 1/b (its two trigammas, to first order).
    const sd = Math.sqrt(1 / a + 1 / b);
    return [
      {
        part,
        seen: sum.seen,
        right: sum.right,
        chance,
        low: logistic(logit(chance) - Z * sd),
        high: logistic(logit(chance) + Z * sd),
      },
    ];
  });
}
