import { align, SWAP_SEC, type Alignment } from './align.ts';
import { leadCandidates, rateCandidates, shiftCandidates } from './candidates.ts';
import type { Frame } from './cost.ts';
import { line } from './line.ts';
import type { Rule } from './rule.ts';
import type { Transposition } from './types.ts';

export interface Lists {
  readonly t: Float64Array;
  readonly p: Float64Array;
  readonly s: Float64Array;
  readonly q: Float64Array;
}
export type Limits = Omit<Frame, 't' | 'p' | 's' | 'q'>;

/** played time = start + rate x written time; played pitch = written pitch + shift. */
export interface Reading extends Alignment {
  readonly start: number;
  readonly rate: number;
  readonly shift: number;
  readonly frame: Frame;
}

/** Candidates: a tempo or key that holds over an eighth of what was played is hit by one of so many slices. */
const RATES = 8;
const SHIFTS = 8;
/** Lists longer than a page of music (cells of the table) get fewer: they tell their tempo and key better. */
const LONG = 10_000;
const LONG_RATES = 3;
const LONG_SHIFTS = 3;

/** From the middle outwards: what is likeliest first, so that the rest is soon bounded. */
function middleFirst(x: readonly number[]): number[] {
  const mid = (x.length - 1) / 2;
  const order = x.map((_, k) => k).sort((a, b) => Math.abs(a - mid) - Math.abs(b - mid));
  return order.map((k) => x[k]);
}

/** Times of one candidate, each worked out once. */
interface Clocked {
  readonly start: number;
  readonly rate: number;
  readonly s: Float64Array;
  readonly stepWidth: Float64Array;
  readonly swap: number;
}

/**
 * The kindest of all readings offered, a minimum over candidates that move smoothly with every note. What a candidate
 * costs at least, by its times alone and by its pitches alone, leaves most of them out.
 */
function kindestOf(
  lists: Lists,
  limits: Limits,
  rule: Rule,
  times: readonly Clocked[],
  shifts: readonly number[],
): Reading {
  const { t, p } = lists;
  let best: Reading | null = null;
  const timesAlone: Rule = { ...rule, pitch: 0 };
  const pitchesAlone: Rule = { ...rule, time: 0, displaced: 0 };
  const keys = shifts.map((shift) => ({ shift, q: lists.q.map((x) => x - shift), open: true }));
  for (const { start, rate, s, stepWidth, swap } of times) {
    let tried = false;
    for (const key of keys) {
      if (!key.open) continue;
      const { shift, q } = key;
      const frame: Frame = { ...limits, stepWidth, swap, t, p, s, q };
      if (best) {
        if (best.cost === 0) return best;
        if (!tried && keys.length > 1 && align(frame, timesAlone, best.cost).cost >= best.cost) break;
        tried = true;
      }
      const found: Alignment = align(frame, rule, best?.cost);
      if (!best || found.cost < best.cost) best = { ...found, start, rate, shift, frame };
    }
    if (keys.length > 1 && times.length > 1)
      for (const key of keys)
        if (key.open && key.shift !== best!.shift)
          key.open =
            align({ ...limits, stepWidth, swap, t, p, s, q: key.q }, pitchesAlone, best!.cost).cost <
            best!.cost;
  }
  return best!;
}

/**
 * A millisecond on one note changes two durations, by 2 x time points / (rate x ramp) in n notes: with a ramp of no
 * less than 0.2 s x time / (n x rate) that is at most one mark. It bears on rhythms played in under 0.8 s alone.
 */
const WORTH_SEC = 0.2;
const gentle = (stepWidth: Float64Array, least: number): Float64Array =>
  stepWidth.every((x) => x >= least) ? stepWidth : stepWidth.map((x) => Math.max(x, least));

export function bestFree(lists: Lists, limits: Limits, rule: Rule, transposition: Transposition): Reading {
  const long = lists.t.length * lists.s.length > LONG;
  const start = lists.s[0];
  const times = middleFirst(rateCandidates(lists.t, lists.s, long ? LONG_RATES : RATES)).map((rate) => ({
    start,
    rate,
    s: lists.s.map((x) => (x - start) / rate),
    stepWidth: gentle(limits.stepWidth, (WORTH_SEC * rule.time) / (lists.t.length * rate)),
    // Order is heard in seconds, however fast the take; at tempos that people play the frame's limit is the wider one.
    swap: rule.pitch > 0 ? Math.max(limits.swap, SWAP_SEC / 2 / rate) : 0,
  }));
  const keys = shiftsOf(lists, rule, transposition, long);
  return anchored(kindestOf(lists, limits, rule, times, keys));
}

/** The same reading with its clock's zero where the written first note falls on the take's own straight tempo. */
function anchored(reading: Reading): Reading {
  const by = line(reading).start;
  const s = reading.frame.s.map((x) => x - by);
  return { ...reading, start: reading.start + by * reading.rate, frame: { ...reading.frame, s } };
}

function shiftsOf(lists: Lists, rule: Rule, transposition: Transposition, long: boolean): number[] {
  if (!(rule.pitch > 0)) return [0];
  const found = shiftCandidates(lists, transposition, long ? LONG_SHIFTS : SHIFTS);
  return transposition === 'any' ? middleFirst(found) : found;
}

/** Against the backing: only a steady lead or lag inside what is unknown is taken out. */
export function bestOnBacking(
  lists: Lists,
  limits: Limits,
  rule: Rule,
  transposition: Transposition,
  latencySec: number,
): Reading {
  const times = leadCandidates(latencySec).map((start) => ({
    start,
    rate: 1,
    s: lists.s.map((x) => x - start),
    stepWidth: limits.stepWidth,
    swap: limits.swap,
  }));
  const keys = shiftsOf(lists, rule, transposition, lists.t.length * lists.s.length > LONG);
  return kindestOf(lists, limits, rule, times, keys);
}
