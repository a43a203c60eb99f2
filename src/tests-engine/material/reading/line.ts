import type { Metre } from '../../../music/score.ts';
import { barTicks, beatLengths } from '../../../music/metre.ts';
import type { Random } from '../random/random.ts';
import { LEAP } from '../melody/line.ts';
import type { FormBar } from './form.ts';
import type { Rung } from './rungs.ts';
import type { ReadingLevel } from './types.ts';

/** A note of a page before it is spelled: when, how long, and which rung. */
export interface LineNote {
  readonly startTicks: number;
  readonly durationTicks: number;
  readonly bar: number;
  readonly rung: Rung;
}

interface Slot {
  readonly startTicks: number;
  durationTicks: number;
  readonly bar: number;
  readonly stressed: boolean;
}

/** Onsets and lengths of a form's rhythm; ties lengthen the note before, over bar lines too. */
function slotsOf(form: readonly FormBar[], metre: Metre): Slot[] {
  const slots: Slot[] = [];
  const beats: number[] = [];
  beatLengths(metre).reduce((sum, ticks) => (beats.push(sum), sum + ticks), 0);
  form.forEach(({ rhythm }, bar) => {
    let inBar = 0;
    for (const { ticks, kind } of rhythm.events) {
      const startTicks = bar * barTicks(metre) + inBar;
      if (kind === 'note')
        slots.push({ startTicks, durationTicks: ticks, bar, stressed: beats.indexOf(inBar) % 2 === 0 });
      else if (kind === 'held') slots.at(-1)!.durationTicks += ticks;
      inBar += ticks;
    }
  });
  return slots;
}

/** How likely a step of so many scale notes is: steps, some thirds, few leaps. Common practice, no source. */
const STEP_WEIGHTS = [3, 24, 11, 4, 4, 2, 1, 1];

/** Degrees that a phrase stays open on, and that lead to the tonic. Common practice, no source. */
const LEADING: readonly number[] = [2, 5, 7];

/** Rungs from which `goal` can be reached in the notes left, one set a note; null where it cannot. */
function reachable(from: readonly (readonly Rung[])[], maxLeap: number): Rung[][] {
  const sets = from.map((set) => [...set]);
  for (let i = sets.length - 2; i >= 0; i--)
    sets[i] = sets[i]!.filter((a) => sets[i + 1]!.some((b) => Math.abs(a.midi - b.midi) <= maxLeap));
  return sets;
}

export interface LineOrder {
  readonly level: ReadingLevel;
  readonly metre: Metre;
  readonly form: readonly FormBar[];
  /** Notes of the key under the hand in each bar, rising. */
  readonly rungs: readonly (readonly Rung[])[];
}

/**
 * A line over a form, or null where a draw leads nowhere: stressed notes lean on the bar's triad, a leap is left by
 * step the other way where that can be, bars that answer take up the notes they answer (the same, or moved by one or
 * two scale notes), an inner phrase ends on degree 2, 5 or 7, the last on the tonic after one of these.
 */
export function drawLine({ level, metre, form, rungs }: LineOrder, random: Random): LineNote[] | null {
  const slots = slotsOf(form, metre);
  const chosen: Rung[] = [];
  for (let bar = 0; bar < form.length; bar++) {
    const from = slots.findIndex((slot) => slot.bar === bar);
    if (from < 0) return null;
    const here = slots.filter((slot) => slot.bar === bar);
    const { answers, cadence, chord } = form[bar]!;
    const before = chosen.at(-1);
    const near = (rung: Rung): boolean => !before || Math.abs(rung.midi - before.midi) <= level.maxLeap;
    // Where the last bar is the tonic alone, what leads to it stands in the bar before.
    const leads =
      form[bar + 1]?.cadence === 'full' && slots.filter((slot) => slot.bar === bar + 1).length === 1;
    if (answers !== null) {
      const source = slots.flatMap((slot, i) => (slot.bar === answers ? [chosen[i]!] : []));
      const taken = takeUp(
        source,
        rungs[bar]!,
        bar - answers > 2 ? [0, 0, 0, -1, 1] : [-1, 1, -2, 2],
        near,
        level.maxLeap,
        random,
      );
      if (taken && (!leads || LEADING.includes(taken.at(-1)!.degree))) {
        chosen.push(...taken);
        continue;
      }
    }
    const sets = here.map(() => [...rungs[bar]!]);
    if (sets.length > 0) sets[0] = sets[0]!.filter(near);
    if (bar === 0) sets[0] = sets[0]!.filter(({ degree }) => [1, 3, 5].includes(degree));
    const last = sets.length - 1;
    const toLeading = (k: number): void => {
      sets[k] = sets[k]!.filter(({ degree }) => LEADING.includes(degree));
    };
    if (cadence === 'half' || leads) toLeading(last);
    if (cadence === 'full') {
      sets[last] = sets[last]!.filter(({ degree }) => degree === 1);
      if (last > 0) toLeading(last - 1);
    }
    const possible = reachable(sets, level.maxLeap);
    if (possible.some((set) => set.length === 0)) return null;
    for (let k = 0; k < here.length; k++) {
      const weights = possible[k]!.map((rung) =>
        weight(rung, chosen, slots, here[k]!, chord, level, from + k),
      );
      const rung = pickBy(weights, possible[k]!, random);
      if (!rung) return null;
      chosen.push(rung);
    }
  }
  return slots.map(({ startTicks, durationTicks, bar }, i) => ({
    startTicks,
    durationTicks,
    bar,
    rung: chosen[i]!,
  }));
}

/** A bar's notes again, moved by scale notes; null where none of the moves lies under the hand. */
function takeUp(
  source: readonly Rung[],
  rungs: readonly Rung[],
  shifts: number[],
  near: (rung: Rung) => boolean,
  maxLeap: number,
  random: Random,
): Rung[] | null {
  const left = [...shifts];
  while (left.length > 0) {
    const [shift] = left.splice(random.below(left.length), 1) as [number];
    const moved = source.map(({ step }) => rungs.find((rung) => rung.step === step + shift));
    if (!moved.every((rung): rung is Rung => rung !== undefined) || !near(moved[0]!)) continue;
    if (moved.every((rung, i) => i === 0 || Math.abs(rung.midi - moved[i - 1]!.midi) <= maxLeap))
      return moved;
  }
  return null;
}

function weight(
  rung: Rung,
  chosen: readonly Rung[],
  slots: readonly Slot[],
  slot: Slot,
  chord: number,
  level: ReadingLevel,
  at: number,
): number {
  const tone = [0, 2, 4].some((third) => ((chord - 1 + third) % 7) + 1 === rung.degree);
  const leaning = slot.stressed ? (tone ? 3 : 1) : 2;
  const a = chosen.at(-1);
  if (!a) return leaning;
  const moved = rung.step - a.step;
  const semitones = Math.abs(rung.midi - a.midi);
  if (semitones > level.maxLeap) return 0;
  const gap = slot.startTicks - slots[at - 1]!.startTicks;
  // Under a quaver the hand reaches no further than a third, on this string or the next.
  if (gap < 240 && (semitones > 4 || Math.abs(rung.string - a.string) > 1)) return 0;
  if (Math.abs(rung.string - a.string) > level.maxStringCross) return 0;
  let w = (STEP_WEIGHTS[Math.abs(moved)] ?? 1) * leaning;
  const b = chosen.at(-2);
  if (!b) return w;
  const prior = a.step - b.step;
  const leapt = Math.abs(a.midi - b.midi) >= LEAP;
  if (leapt) w *= moved * prior < 0 && Math.abs(moved) <= 2 ? 4 : moved * prior > 0 ? 0.25 : 1;
  if (moved === 0 && prior === 0) return 0;
  // To and fro between two notes, and long runs one way, say little.
  const c = chosen.at(-3);
  if (c && rung.step === b.step && a.step === c.step) w *= 0.1;
  const run = chosen.slice(-4);
  if (
    run.length === 4 &&
    moved !== 0 &&
    run.every((r, i) => i === 0 || Math.sign(r.step - run[i - 1]!.step) === Math.sign(moved))
  )
    w *= 0.2;
  return w;
}

/** One item, each as likely as its weight; null where all weigh nothing. */
function pickBy<T>(weights: readonly number[], items: readonly T[], random: Random): T | null {
  // Whole numbers: a draw must not hang on how a sum of fractions is rounded.
  const whole = weights.map((w) => Math.round(w * 100));
  const total = whole.reduce((sum, w) => sum + w, 0);
  if (total === 0) return null;
  let draw = random.below(total);
  return items[whole.findIndex((w) => (draw -= w) < 0)]!;
}
