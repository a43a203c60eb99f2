import { median } from '../../../music/numbers.ts';
import { inWholeBars, leftOut } from './leftOut.ts';
import type { Answered, PlacesOrder, ReadingEvent } from './types.ts';

/** A beat of standing still is a stop that a listener notices; less is a hesitation. Common practice, no source. */
const STOP_BEATS = 0.85;
/** Notes before and after a gap by which the tempo around it is told. */
const AROUND = 8;
/** Bars whose tempo must be known before a change is told. */
const FEWEST_BARS = 4;
/** A step this far off holds a hesitation, not a tempo. */
const HESITATION_BEATS = 0.2;
/** A change of tempo worth a word, percent: three times what is noticed at best (2.5 %: Friberg & Sundberg 1995). */
const DRIFT_PERCENT = 8;

/** A passage played again: played notes `first`…`last` that answer nothing, and what they lie between on the page. */
interface Back {
  readonly to: number;
  readonly from: number;
  readonly first: number;
  readonly last: number;
}

/** What happened where, in order of the page. Built on the verdicts alone, whatever the clock. */
export function readingPlaces(order: PlacesOrder): ReadingEvent[] {
  const { target, played, mark } = order;
  const barOf = (i: number): number =>
    Math.floor(target[i]!.onsetSec / order.beatSec / order.beatsPerBar + 1e-3);
  const beatOf = (i: number): number =>
    Math.floor(target[i]!.onsetSec / order.beatSec + 1e-3) - barOf(i) * order.beatsPerBar;
  const marked: Answered[] = mark.verdicts
    .flatMap((v) =>
      v.targetIndex !== null && v.playedIndex !== null ? [{ i: v.targetIndex, j: v.playedIndex }] : [],
    )
    .sort((a, b) => a.j - b.j);
  if (marked.length < 2) return [];
  const answers = inWholeBars(order, marked, barOf);
  const events: ReadingEvent[] = [];
  const back = wentBack(order, answers);
  events.push(
    ...back.map(({ to, from }) => ({
      kind: 'wentBack' as const,
      bar: barOf(to) + 1,
      fromBar: barOf(from) + 1,
    })),
  );

  const missed = leftOut(order, answers, barOf);
  events.push(...missed.events);
  if (target.length - 1 - missed.reached >= 2) events.push({ kind: 'ended', bar: barOf(missed.reached) + 1 });

  // Standing still: longer than the notes around it say, and not where the player went back or a bar was left out.
  const rates = localRates(order, answers);
  for (let k = 1; k < answers.length; k++) {
    const [a, b] = [answers[k - 1]!, answers[k]!];
    // A passage played again takes its time; that is no stop.
    if (back.some(({ to, first, last }) => to === b.i || (first > a.j && last < b.j))) continue;
    const due = target[b.i]!.onsetSec - target[a.i]!.onsetSec;
    if (due <= 0) continue;
    const took = played[b.j]!.onsetSec - played[a.j]!.onsetSec;
    const beats = (took / rates[k]! - due) / order.feltBeatSec;
    if (beats >= STOP_BEATS) {
      events.push({
        kind: 'stopped',
        bar: barOf(b.i) + 1,
        beat: beatOf(b.i) + 1,
        beats: Math.round(beats * 2) / 2,
      });
    }
  }
  const drifted = drift(order, answers, rates, barOf);
  if (drifted) events.push(drifted);
  return events.sort((a, b) => a.bar - b.bar);
}

/** Where notes were played again: the first note written after the passage, and the last one reached before it. */
function wentBack({ mark, target, played }: PlacesOrder, answers: readonly Answered[]): Back[] {
  const extras = new Set(mark.verdicts.filter((v) => v.kind === 'extra').map((v) => v.playedIndex!));
  const found: Back[] = [];
  for (let k = 0; k <= answers.length; k++) {
    const [before, after] = [answers[k - 1], answers[k]];
    const first = before ? before.j + 1 : Math.min(after!.j, ...extras);
    const last = after ? after.j - 1 : played.length - 1;
    const run: number[] = [];
    for (let j = first; j <= last; j++) if (extras.has(j)) run.push(j);
    if (run.length < 2) continue;
    const of = { first: run[0]!, last: run.at(-1)! };
    // The passage is one attempt at what is written around it: compare with the writing after, and before.
    const next = after ? after.i : target.length;
    const same = (from: number): number =>
      run.filter((j, x) => played[j]!.midi === target[from + x]?.midi).length / run.length;
    if (same(next) >= 0.7)
      found.push({ to: next, from: Math.min(target.length - 1, next + run.length - 1), ...of });
    else if (next - run.length >= 0 && same(next - run.length) >= 0.7)
      found.push({ to: next - run.length, from: next - 1, ...of });
  }
  return found;
}

/** Seconds played to a second written, around each answer: the median over the steps near it. */
function localRates({ target, played }: PlacesOrder, answers: readonly Answered[]): number[] {
  const steps = answers.slice(1).map((b, k) => {
    const a = answers[k]!;
    const due = target[b.i]!.onsetSec - target[a.i]!.onsetSec;
    return due > 0 && b.i - a.i <= 2 ? (played[b.j]!.onsetSec - played[a.j]!.onsetSec) / due : NaN;
  });
  const good = (list: number[]): number[] => list.filter((x) => x > 0);
  const whole = median(good(steps)) || 1;
  return answers.map((_, k) => {
    const near = good(steps.slice(Math.max(0, k - AROUND), k + AROUND));
    return near.length >= 3 ? median(near) : whole;
  });
}

/**
 * The bar from which the tempo is another one: a straight line through the bars' tempos by medians (Theil 1950), told
 * where it changes by {@link DRIFT_PERCENT} over the page. Steps that hold a stop or a hesitation are left out.
 */
function drift(
  { target, played, bars, feltBeatSec }: PlacesOrder,
  answers: readonly Answered[],
  rates: readonly number[],
  barOf: (i: number) => number,
): ReadingEvent | null {
  const tempos: { bar: number; tempo: number }[] = [];
  for (let bar = 0; bar < bars; bar++) {
    let [due, took] = [0, 0];
    for (let k = 1; k < answers.length; k++) {
      const [a, b] = [answers[k - 1]!, answers[k]!];
      if (barOf(a.i) !== bar || b.i !== a.i + 1 || b.j !== a.j + 1) continue;
      const written = target[b.i]!.onsetSec - target[a.i]!.onsetSec;
      const lasted = played[b.j]!.onsetSec - played[a.j]!.onsetSec;
      if (Math.abs(lasted / rates[k]! - written) > HESITATION_BEATS * feltBeatSec) continue;
      due += written;
      took += lasted;
    }
    if (due > 0 && took > 0) tempos.push({ bar, tempo: due / took });
  }
  if (tempos.length < FEWEST_BARS) return null;
  const slopes = tempos.flatMap((a, k) =>
    tempos.slice(k + 1).map((b) => (b.tempo - a.tempo) / (b.bar - a.bar)),
  );
  const middle = median(tempos.map(({ tempo }) => tempo));
  const percent = ((median(slopes) * (bars - 1)) / middle) * 100;
  if (Math.abs(percent) < DRIFT_PERCENT) return null;
  const before = median(tempos.slice(0, 2).map(({ tempo }) => tempo));
  const heardAt = tempos.find(
    ({ tempo }) => Math.sign(percent) * (tempo / before - 1) * 100 >= DRIFT_PERCENT / 2,
  );
  return { kind: 'drifted', bar: (heardAt ?? tempos.at(-1)!).bar + 1, percent: Math.round(percent) };
}
