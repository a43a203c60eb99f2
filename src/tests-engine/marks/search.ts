import { align, type Alignment, type Frame } from './align.ts';
import { rateCandidates, shiftCandidates } from './candidates.ts';
import { TUNING, type Rule } from './rule.ts';
import type { Transposition } from './types.ts';
import { FREE_LEAD_SEC } from './tolerances.ts';

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

export function median(values: number[]): number {
  if (values.length === 0) return 0;
  const sorted = values.sort((a, b) => a - b);
  const mid = sorted.length >> 1;
  return sorted.length % 2 ? sorted[mid] : (sorted[mid - 1] + sorted[mid]) / 2;
}

function frameOf(lists: Lists, limits: Limits, start: number, rate: number, shift: number): Frame {
  return {
    t: lists.t,
    p: lists.p,
    s: lists.s.map((x) => (x - start) / rate),
    q: lists.q.map((x) => x - shift),
    ...limits,
  };
}

function read(
  lists: Lists,
  limits: Limits,
  rule: Rule,
  timeShift: number,
  start: number,
  rate: number,
  shift: number,
  beat: boolean,
): Reading {
  const frame = frameOf(lists, limits, start, rate, shift);
  return { ...align(frame, rule, timeShift, beat), start, rate, shift, frame };
}

/** Median of pairwise slopes (Theil 1950, Sen 1968): one straight tempo, deaf to single stumbles. */
function slope(lists: Lists, matches: Alignment['matches'], otherwise: number): number {
  const slopes: number[] = [];
  const stride = Math.max(1, Math.floor(matches.length / 40));
  for (let a = 0; a < matches.length; a += stride)
    for (let b = a + 1; b < matches.length; b += stride) {
      const dt = lists.t[matches[b].i] - lists.t[matches[a].i];
      if (dt > 0) slopes.push((lists.s[matches[b].j] - lists.s[matches[a].j]) / dt);
    }
  const found = slopes.length ? median(slopes) : otherwise;
  return found > 0 ? found : otherwise;
}

/** Lists longer than a page of music (cells of the table): only the likeliest rough reading is worked out. */
const LONG = 10_000;

export function bestFree(
  lists: Lists,
  limits: Limits,
  rule: Rule,
  timeShift: number,
  transposition: Transposition,
): Reading {
  const rates = rateCandidates(lists.t, lists.p, lists.s, lists.q, 2);
  const shifts = rule.pitch > 0 ? shiftCandidates(lists.p, lists.q, transposition, 2) : [0];
  const rough: Reading[] = [];
  for (const rate of rates)
    for (const shift of shifts) rough.push(read(lists, limits, rule, timeShift, 0, rate, shift, false));
  rough.sort((a, b) => a.cost - b.cost);
  let best: Reading | null = null;
  for (const r of rough.slice(0, lists.t.length * lists.s.length > LONG ? 1 : 3)) {
    let from: Reading = r;
    for (let round = 0; round < 2; round++) {
      const rate = slope(lists, from.matches, from.rate);
      const start = median(from.matches.map(({ i, j }) => lists.s[j] - rate * lists.t[i]));
      const shift = tuned(lists, from.matches, r.shift, transposition === 'any' ? KEY_REFINED : TUNING);
      from = read(lists, limits, rule, timeShift, start, rate, shift, true);
      if (!best || from.cost < best.cost) best = from;
    }
  }
  return best!;
}

/** A voted key is good to half a semitone; the median of the notes may move it by this, semitones. */
const KEY_REFINED = 1;

/** The shift at which the answered notes lie, no further than `bound` from `base`. */
function tuned(lists: Lists, matches: Alignment['matches'], base: number, bound: number): number {
  const off = matches.map(({ i, j }) => lists.q[j] - lists.p[i] - base).filter((d) => !Number.isNaN(d));
  return base + Math.max(-bound, Math.min(bound, median(off)));
}

/** Against the backing: only a steady lead or lag inside what is unknown is taken out. */
export function bestOnBacking(
  lists: Lists,
  limits: Limits,
  rule: Rule,
  timeShift: number,
  transposition: Transposition,
  latencySec: number,
): Reading {
  const allowed = [-FREE_LEAD_SEC - latencySec, latencySec] as const;
  const shifts =
    rule.pitch > 0 ? shiftCandidates(lists.p, lists.q, transposition, transposition === 'any' ? 4 : 2) : [0];
  let best: Reading | null = null;
  for (const base of shifts) {
    let from = read(lists, limits, rule, timeShift, 0, 1, base, true);
    if (!best || from.cost < best.cost) best = from;
    if (best.cost === 0) break;
    const starts = latencySec > FREE_LEAD_SEC ? [false, true] : [true];
    for (const beat of starts) {
      let seed = beat ? best : read(lists, limits, rule, timeShift, 0, 1, base, false);
      for (let round = 0; round < 2; round++) {
        const late = median(seed.matches.map(({ i, j }) => lists.s[j] - lists.t[i]));
        const start = Math.max(allowed[0], Math.min(allowed[1], late));
        const shift = tuned(lists, seed.matches, base, TUNING);
        if (beat && start === seed.start && shift === seed.shift) break;
        from = read(lists, limits, rule, timeShift, start, 1, shift, true);
        if (from.cost < best.cost) best = from;
        seed = from;
      }
    }
  }
  return best!;
}
