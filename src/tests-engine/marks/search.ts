import { align, alignCost } from './align.ts';
import { keysOf, tempos } from './candidates.ts';
import type { Frame } from './cost.ts';
import { line } from './line.ts';
import type { Limits, Lists, Reading } from './placed.ts';
import type { Rule } from './rule.ts';
import type { Transposition } from './types.ts';

/** A tempo for the played notes, or what a stretch of neighbouring clocks has in common: a bound for all of them. */
interface Clocked extends Pick<Frame, 's' | 'tol' | 'stepWidth' | 'borrow' | 'slack'> {
  readonly start: number;
  readonly rate: number;
}
/** Clocks by number: `over(a, b)` stands for all from a to b, `over(a, a)` is one. */
interface Clocks {
  readonly count: number;
  /** The likeliest one. */
  readonly first: number;
  readonly over: (from: number, to: number) => Clocked;
}

/** Clocks and keys from one number to another, both included. */
interface Stretch {
  readonly times: readonly [number, number];
  readonly keys: readonly [number, number];
}
/** With what the cheapest reading in it costs at least. */
interface Box extends Stretch {
  readonly least: number;
}

/** Keys so far apart are halved together with neighbouring clocks: whichever reach further go first. */
const SEMITONES_A_CLOCK = 0.3;

/**
 * The kindest of all clocks and keys offered. None of them hangs on what makes a reading kind, so that the mark, a
 * minimum over them, has no jumps; whole stretches of them are bounded, and left out, together.
 */
function kindestOf(
  lists: Lists,
  limits: Limits,
  rule: Rule,
  clocks: Clocks,
  keys: readonly number[],
): Reading {
  const clocked = new Map<number, Clocked>();
  const tuned = new Map<number, Float64Array>();
  const frameOf = ({ times: [a, b], keys: [k, l] }: Stretch): Frame => {
    let clock = clocked.get(a * clocks.count + b);
    if (!clock) clocked.set(a * clocks.count + b, (clock = clocks.over(a, b)));
    let q = tuned.get(k * keys.length + l);
    if (!q) {
      q = new Float64Array(lists.q);
      const shift = (keys[k]! + keys[l]!) / 2;
      if (shift !== 0) for (let j = 0; j < q.length; j++) q[j]! -= shift;
      tuned.set(k * keys.length + l, q);
    }
    return {
      t: lists.t,
      p: lists.p,
      s: clock.s,
      q,
      tol: clock.tol,
      width: limits.width,
      stepFree: limits.stepFree,
      stepWidth: clock.stepWidth,
      extra: limits.extra,
      extraBefore: limits.extraBefore,
      leastExtra: limits.leastExtra,
      trust: limits.trust,
      beat: limits.beat,
      borrow: clock.borrow,
      slack: clock.slack,
      bend: (keys[l]! - keys[k]!) / 2,
    };
  };
  let found: Stretch = alone(clocks.first, keys.length >> 1);
  let best = align(frameOf(found), rule);
  const open: Box[] = [];
  if (clocks.count * keys.length > 1)
    open.push({ times: [0, clocks.count - 1], keys: [0, keys.length - 1], least: 0 });
  for (let box = open.pop(); box && box.least < best.cost; box = open.pop())
    for (const half of halves(box, keys)) {
      if (half.times[0] === half.times[1] && half.keys[0] === half.keys[1]) {
        const tried = align(frameOf(half), rule, best.cost);
        if (tried.cost < best.cost) [found, best] = [half, tried];
      } else {
        const least = alignCost(frameOf(half), rule, best.cost);
        if (least < best.cost) insert(open, { ...half, least: Math.max(least, box.least) });
      }
    }
  const [time, key] = [found.times[0], found.keys[0]];
  const { start, rate } = clocks.over(time, time);
  return { ...best, start, rate, shift: keys[key]!, frame: frameOf(found), toll: 0, straight: null };
}

const alone = (time: number, key: number): Stretch => ({ times: [time, time], keys: [key, key] });

function halves({ times: [a, b], keys: [k, l] }: Stretch, keys: readonly number[]): Stretch[] {
  if (b - a >= (keys[l]! - keys[k]!) / SEMITONES_A_CLOCK) {
    const mid = (a + b) >> 1;
    return [
      { times: [a, mid], keys: [k, l] },
      { times: [mid + 1, b], keys: [k, l] },
    ];
  }
  const mid = (k + l) >> 1;
  return [
    { times: [a, b], keys: [k, mid] },
    { times: [a, b], keys: [mid + 1, l] },
  ];
}

/** Keeps the cheapest last. */
function insert(open: Box[], box: Box): void {
  let [low, high] = [0, open.length];
  while (low < high) {
    const mid = (low + high) >> 1;
    if (open[mid]!.least > box.least) low = mid + 1;
    else high = mid;
  }
  open.splice(low, 0, box);
}

/**
 * Own tempo: a millisecond on one note changes the two durations beside it, or (first and last note) through the tempos
 * offered all durations, by two milliseconds in sum: by 2 x time points / (rate x ramp) in n notes. With a ramp of no
 * less than 0.2 s x time points / (n x rate) that is at most one mark. Of that mark a rhythm takes four fifths, so
 * that something is left for the ramp's own dependence on the tempo; a melody half, as pitches taken from neighbours
 * may change as well. It bears on short phrases played fast alone.
 */
const MARK_SEC = 0.2;
const RHYTHM_SHARE = 0.8;
const MELODY_SHARE = 0.5;
const gentle = (stepWidth: Float64Array, least: number): Float64Array =>
  stepWidth.some((x) => x < least) ? stepWidth.map((x) => Math.max(x, least)) : stepWidth;
const clockedBy = (played: Float64Array, start: number, rate: number): Float64Array => {
  const s = new Float64Array(played.length);
  for (let j = 0; j < s.length; j++) s[j] = (played[j]! - start) / rate;
  return s;
};

/** Nearness is heard in the tempo of the take up to five notes a second; faster than that, in seconds. */
const BRISK_RATE = 0.5;

export function bestFree(lists: Lists, limits: Limits, rule: Rule, transposition: Transposition): Reading {
  const start = lists.s[0]!;
  const all = tempos(lists.t, lists.s);
  const share = rule.pitch > 0 ? MELODY_SHARE : RHYTHM_SHARE;
  const worth = (MARK_SEC * rule.time) / (share * lists.t.length);
  const clocks: Clocks = {
    count: all.length,
    first: all.length >> 1,
    over: (a, b) => {
      const [quickest, slowest] = [all[a]!, all[b]!];
      const [fast, slow] = [1 / quickest, 1 / slowest];
      const rate = 2 / (fast + slow);
      return {
        start,
        rate,
        s: clockedBy(lists.s, start, rate),
        tol: limits.tol,
        stepWidth: gentle(limits.stepWidth, worth / quickest),
        borrow: limits.borrow * Math.min(rate, (BRISK_RATE * rate) / slowest),
        slack: (fast - slow) / (fast + slow),
      };
    },
  };
  return anchored(kindestOf(lists, limits, rule, clocks, keysOf(lists, rule, transposition)));
}

/** The same reading with its clock's zero where the written first note falls on the take's own straight tempo. */
function anchored(reading: Reading): Reading {
  const { start, rate } = line(reading);
  return {
    ...reading,
    start: reading.start + start * reading.rate,
    frame: { ...reading.frame, s: reading.frame.s.map((x) => x - start) },
    straight: { start: 0, rate },
  };
}
