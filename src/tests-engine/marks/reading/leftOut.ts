import { median } from '../../../music/numbers.ts';
import type { Answered, PlacesOrder, ReadingEvent } from './types.ts';

/** Share of a bar's notes that have to be missed for it to be left out: one may be matched by chance. */
const LEFT_OUT = 0.75;
/** Notes on either side of a bar that may have been answered in its place. */
const FARTHEST = 8;
/** As many bars are left out at once at most, where the notes around them have to be told apart. */
const MOST_BARS = 2;
/** A reading of what is missing is another one when it explains this many beats of waiting more. */
const CLEARER_BEATS = 0.5;
/** What a wrong note counts for beside beats of waiting: one that is right elsewhere was meant there. */
const WRONG_BEATS = 1;

/**
 * The answers, each at the written note that a listener would say it is. Where a bar that was left out begins or ends
 * like its neighbour, the mark may answer half of it with half of the neighbour: the same notes, all right. Read as one
 * whole bar that is missing they stand in their rhythm, and that is how it is told.
 */
export function inWholeBars(
  order: PlacesOrder,
  answers: readonly Answered[],
  barOf: (i: number) => number,
): readonly Answered[] {
  const { target, bars } = order;
  let now = answers;
  for (let many = 1; many <= MOST_BARS; many++)
    for (let bar = 0; bar + many <= bars; bar++) {
      const from = target.findIndex((_, i) => barOf(i) >= bar);
      const after = target.findIndex((_, i) => barOf(i) >= bar + many);
      if (from >= 0) now = without(order, now, [from, after < 0 ? target.length : after], barOf);
    }
  return now;
}

/** The answers read with the notes [from, to) left out, where that is clearer than as they are; else as they are. */
function without(
  order: PlacesOrder,
  answers: readonly Answered[],
  [from, to]: readonly [number, number],
  barOf: (i: number) => number,
): readonly Answered[] {
  const { target, played } = order;
  const answered = new Map(answers.map(({ i, j }) => [i, j]));
  let [best, least] = [answers, effort(order, answers, barOf) - CLEARER_BEATS];
  for (let first = from; first >= Math.max(0, from - FARTHEST); first--)
    for (let end = to; end <= target.length && end <= to + FARTHEST; end++) {
      const inside = target.flatMap((_, i) => (i >= first && i < end ? [i] : []));
      const struck = inside.flatMap((i) => answered.get(i) ?? []).sort((a, b) => a - b);
      const left = inside.filter((i) => i < from || i >= to);
      if (struck.length !== left.length || left.every((i) => answered.has(i))) continue;
      const moved = left.map((i, k) => ({ i, j: struck[k] ?? 0 }));
      if (moved.some(({ i, j }) => played[j]?.midi !== target[i]?.midi)) continue;
      const read = [...answers.filter(({ i }) => i < first || i >= end), ...moved].sort((a, b) => a.j - b.j);
      const cost = effort(order, read, barOf);
      if (cost < least) [best, least] = [read, cost];
    }
  return best;
}

/** Beats of waiting and hurrying from answer to answer, and what is wrong. Whole bars passed over may take no time. */
function effort(
  { target, played, feltBeatSec, beatSec, beatsPerBar }: PlacesOrder,
  answers: readonly Answered[],
  barOf: (i: number) => number,
): number {
  const begins = (i: number): boolean => i === 0 || i >= target.length || barOf(i) !== barOf(i - 1);
  const steps = answers.slice(1).flatMap((b, k) => {
    const a = answers[k];
    const [s, t, x, y] = [target[a?.i ?? -1], target[b.i], played[a?.j ?? -1], played[b.j]];
    if (!a || !s || !t || !x || !y) return [];
    const over = b.i > a.i + 1 && begins(a.i + 1) && begins(b.i) ? barOf(b.i) - barOf(a.i + 1) : 0;
    return [{ next: b.i === a.i + 1, over, due: t.onsetSec - s.onsetSec, took: y.onsetSec - x.onsetSec }];
  });
  const rate =
    median(steps.flatMap(({ next, due, took }) => (next && due > 0 && took > 0 ? [took / due] : []))) || 1;
  const waits = steps.reduce((sum, { over, due, took }) => {
    const off = (bars: number): number => Math.abs(took / rate - due + bars * beatSec * beatsPerBar);
    return sum + Math.min(off(0), off(over));
  }, 0);
  const wrong = answers.filter(({ i, j }) => target[i]?.midi !== played[j]?.midi).length;
  return waits / feltBeatSec + WRONG_BEATS * wrong;
}

/** Whole bars without an answer, and the last written note that has one. */
export function leftOut(
  { target, bars }: PlacesOrder,
  answers: readonly Answered[],
  barOf: (i: number) => number,
): { readonly events: ReadingEvent[]; readonly reached: number } {
  const answered = new Set(answers.map(({ i }) => i));
  const low = Math.min(...answered);
  const reached = Math.max(...answered);
  const events: { kind: 'leftOut'; bar: number; toBar: number }[] = [];
  for (let bar = 0; bar < bars; bar++) {
    const notes = target.flatMap((_, i) => (barOf(i) === bar ? [i] : []));
    if (notes.length === 0 || notes.every((i) => i > reached)) continue;
    const missing = notes.filter((i) => i > low && !answered.has(i)).length;
    if (missing < LEFT_OUT * notes.length || (notes.length > 1 && missing < 2)) continue;
    const last = events.at(-1);
    if (last && last.toBar === bar) events[events.length - 1] = { ...last, toBar: bar + 1 };
    else events.push({ kind: 'leftOut', bar: bar + 1, toBar: bar + 1 });
  }
  return { events, reached };
}
