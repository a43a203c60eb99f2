import type { HeardTake } from '../../music/notes.ts';
import { account } from './account.ts';
import { requestOf, type MarkNotesOptions, type WrittenTarget } from './markNotes.ts';
import { kindest, prepare } from './prepare.ts';
import type { Rule } from './rule.ts';
import { trustIn } from './trust.ts';
import type { Mark, VerdictKind } from './types.ts';
import { round } from './verdicts.ts';

/** A verdict that a teacher gave in place of the machine's; `index` into the mark's verdicts. */
export interface Overruling {
  readonly index: number;
  readonly kind: VerdictKind;
}

/** Points of a verdict given by hand. How early or late is not said: half of what a note wholly off the beat costs. */
function priceOf(kind: VerdictKind, rule: Rule): number {
  switch (kind) {
    case 'right':
      return 0;
    case 'wrong':
      return rule.pitch;
    case 'early':
    case 'late':
      return rule.time / 2;
    case 'missed':
      return rule.missed;
    case 'extra':
      return rule.extra;
  }
}

/** Points of a note by its new verdict, where it cost `before` by its old one. */
function pointsOf(now: VerdictKind, was: VerdictKind, before: number, rule: Rule): number {
  if (now === 'right') return 0;
  if (now === was || (isOff(now) && isOff(was))) return before;
  // A note wrong in pitch and in time may have cost more than one left out.
  return now === 'missed' ? Math.max(before, rule.missed) : priceOf(now, rule);
}

const isOff = (kind: VerdictKind): boolean => kind === 'early' || kind === 'late';

/**
 * The mark as it follows from verdicts that a teacher changed: each changed note's own points are given back and those
 * of its new verdict taken; all else stays as it was marked. So no verdict gives more than "right" and none less than
 * "missed", and a note called late that was early costs what it did. An extra note called right is not counted.
 *
 * @param given the mark with its verdicts as stored, by this rule or an earlier one
 * @returns 0…100, one decimal; null where `given` has no mark
 * @throws RangeError for an index that is no verdict's
 */
export function overruledMark(
  written: WrittenTarget,
  take: HeardTake,
  options: MarkNotesOptions,
  given: Mark,
  changes: readonly Overruling[],
): number | null {
  if (given.mark === null) return null;
  if (changes.length === 0) return given.mark;
  const prepared = prepare(requestOf(written, take, options));
  const { rule, played, playedOrder } = prepared;
  const reading = kindest(prepared, trustIn);
  const { s, borrow } = reading.frame;
  // What each answered written note cost, by the played note that answers it; a pitch taken from a neighbour included.
  const answered = new Map<string, number>();
  account(reading, rule).answers.forEach((a, k) => {
    const borrowed = Math.abs(s[reading.matches[k]!.source]! - s[a.j]!) * borrow;
    answered.set(`${a.i} ${playedOrder[a.j]}`, a.rhythm + a.pulse + a.notes + borrowed);
  });
  const n = written.phrase.notes.length;
  let points = (n * (100 - given.mark)) / 100;
  for (const { index, kind } of changes) {
    const verdict = given.verdicts[index];
    if (!verdict) throw new RangeError(`verdict index must be 0…${given.verdicts.length - 1}, got ${index}`);
    const { targetIndex, playedIndex } = verdict;
    const known = answered.get(`${targetIndex} ${playedIndex}`);
    const before =
      targetIndex === null
        ? rule.extra * trustIn(played[playedOrder.indexOf(playedIndex!)]?.confidence ?? 1)
        : (known ?? priceOf(verdict.kind, rule));
    points += pointsOf(kind, verdict.kind, before, rule) - before;
  }
  return round(100 * (1 - Math.min(1, Math.max(0, points / n))));
}
