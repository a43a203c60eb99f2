import { pitchShare, ramp, stepShare, WINDOW, type Frame } from './cost.ts';
import { AHEAD, isWithin, ordersOf, type Orders } from './orders.ts';
import { restartPrice, type Rule } from './rule.ts';

/** One answered note, in the order written between restarts. */
export interface Match {
  readonly i: number;
  readonly j: number;
  readonly restart: boolean;
}
export interface Alignment {
  /** Points; Infinity where it is more than the bound given. */
  readonly cost: number;
  readonly matches: readonly Match[];
}

/**
 * Notes nearer than this may be taken in any order: which of two came first is heard from about 20 ms on (Hirsh
 * 1959), safely at three times that.
 */
export const SWAP_SEC = 0.06;
/** Short phrases, where each note is worth more, get more: see `swapSec`. */
const SWAP_MOST_SEC = 0.15;
/** What a millisecond may cost at most, in points for each written note; a note in time costs this much of it. */
const POINTS_A_SEC = 10;
const TIME_A_SEC = 7.5;

/**
 * How near two played notes must be to change places, seconds. So long that a millisecond is never worth more than a
 * mark, even to a note that has changed places with as many others as it may.
 */
export const swapSec = (rule: Rule, written: number): number => {
  const room = POINTS_A_SEC * written - TIME_A_SEC;
  const least = room > 0 ? (AHEAD * (rule.missed + rule.extra)) / room : SWAP_MOST_SEC;
  return Math.min(SWAP_MOST_SEC, Math.max(SWAP_SEC, least));
};

/** Points for each second (frame's clock) that two answered notes are out of order: at the limit missed and extra. */
export const swapPrice = (f: Frame, rule: Rule): number =>
  f.swap > 0 ? (rule.missed + rule.extra) / f.swap : 0;

// One table for all calls. Step e of the orders and written note i at e * n + i: cheapest way that ends with the
// step's note answering i, and the node before it (-1: none, -2 - node: gone back after it).
let best = new Float64Array(0);
let bestFrom = new Int32Array(0);
// Set k and written note i at k * n + i: cheapest way up to here with what was left out since; cheapest answer so far
// from which i can be gone back to; the nodes where they are found.
let [any, back] = [new Float64Array(0), new Float64Array(0)];
let [anyAt, backAt] = [new Int32Array(0), new Int32Array(0)];
/** Of each set: the points of the notes in it, were they all extra. */
let extras = new Float64Array(0);
function reserve(n: number, { sets, note }: Orders): void {
  const steps = Math.max(note.length, sets);
  if (steps * n > best.length) {
    [best, any, back] = Array.from({ length: 3 }, () => new Float64Array(steps * n));
    [bestFrom, anyAt, backAt] = Array.from({ length: 3 }, () => new Int32Array(steps * n));
  }
  if (sets > extras.length) extras = new Float64Array(2 * sets);
}

/** Lists longer than a page of music (cells of the table) are bounded first. */
const BANDED_FROM = 10_000;
/** Notes either side of the diagonal in the bounding pass: two bars of quavers. */
const BAND = 16;
/** Sums of a few hundred costs agree to this. */
const ROUNDING = 1e-9;

/**
 * The cheapest way to read `played` as an attempt at `target`. Exact: every assignment in an allowed order (`orders.ts`),
 * with any number of jumps back, is covered.
 *
 * @param bound readings dearer than this are of no use: the cost may come out as Infinity
 */
export function align(f: Frame, rule: Rule, bound = Infinity): Alignment {
  let limit = bound < Infinity ? bound : straight(f, rule);
  if (f.t.length * f.s.length > BANDED_FROM)
    limit = Math.min(limit, pass(f, rule, limit * (1 + ROUNDING) + ROUNDING, BAND).cost);
  return pass(f, rule, limit * (1 + ROUNDING) + ROUNDING, Infinity);
}

/** Cost of the simplest reading, first to first and so on: no cheapest one is dearer. */
function straight(f: Frame, rule: Rule): number {
  const { t, p, s, q, tol, width, missed, extra, trust } = f;
  const both = Math.min(t.length, s.length);
  let cost = 0;
  for (let k = 0; k < both; k++) {
    const d = q[k] - p[k];
    if (d === d) cost += rule.pitch * trust[k] * pitchShare(d);
    if (f.beat) cost += rule.time * ramp(s[k] - t[k], tol[k], width[k]);
    else if (k > 0) cost += rule.time * stepShare(f, k, k - 1, s[k] - s[k - 1] - (t[k] - t[k - 1]));
  }
  for (let i = both; i < t.length; i++) cost += missed[i];
  for (let j = both; j < s.length; j++) cost += extra[j];
  return cost;
}

function pass(f: Frame, rule: Rule, bound: number, band: number): Alignment {
  const n = f.t.length;
  const m = f.s.length;
  const { t, p, s, q, tol, width, missed, extra, trust, beat, stepFree, stepWidth } = f;
  const orders = ordersOf(s, f.swap, n);
  const { sets, size, first, ahead, into, from: source, note, late, plain } = orders;
  reserve(n, orders);
  const missedBefore = prefix(missed);
  const extraBefore = prefix(extra);
  for (let k = 0; k < sets; k++) {
    extras[k] = extraBefore[first[k]];
    for (let b = 0, rest = ahead[k]; rest > 0; b++, rest >>= 1)
      if (rest & 1) extras[k] += extra[first[k] + 1 + b];
  }
  const { pitch: wp, time: wt, pitchShift } = rule;
  const restart = restartPrice(rule);
  const keep = beat ? rule.displaced : 0;
  const move = wt - keep;
  const perSec = swapPrice(f, rule);
  const slant = n / m;
  const leastExtra = extra.reduce((a, b) => Math.min(a, b), restart);
  /** Points that are certainly lost after written note i and `taken` played ones. */
  const rest = (i: number, taken: number): number => {
    const more = n - 1 - i - (m - taken);
    if (more >= 0) return more * rule.missed;
    const over = -more * leastExtra;
    return over < restart ? over : restart;
  };
  const mayGoBack = restart <= bound;

  let from = -1;
  /** Cheapest way to have note j answer i after `set` has been taken in, if under `limit`; `from` is the node before. */
  const reach = (i: number, j: number, set: number, limit: number): number => {
    const e = s[j] - t[i];
    const d = q[j] - p[i];
    const wpj = wp > 0 && d === d ? wp * trust[j] : 0;
    const absP = wpj > 0 ? wpj * pitchShare(d) : 0;
    const absT = beat ? wt * ramp(e, tol[i], width[i]) : wt;
    from = -1;
    // The first note answered has none to keep step with: by the beat alone, or free where the start is free.
    let cost = missedBefore[i] + extras[set] + absP + (beat ? absT : 0);
    if (!(cost < limit)) cost = limit;
    if (set === 0) return cost;
    if (i > 0) {
      const g = any[set * n + i - 1] + absP + absT;
      if (g < cost) {
        cost = g;
        from = anyAt[set * n + i - 1];
      }
      const iLow = i > WINDOW ? i - WINDOW : 0;
      // What a set costs with the rest as extra notes falls from each set to a larger one that holds it: once no set
      // of some size is cheap enough, no smaller one is.
      let alive = size[set];
      for (let o = set; o > 0 && size[o] >= alive - 1; o--) {
        const between = extras[set] - extras[o];
        if (any[o * n + i - 1] + between >= cost || !(plain || isWithin(orders, o, set))) continue;
        alive = size[o];
        for (let step = into[o]; step < into[o + 1]; step++) {
          const jj = note[step];
          for (let ii = i - 1; ii >= iLow; ii--) {
            const prev = step * n + ii;
            let c = best[prev] + between + missedBefore[i] - missedBefore[ii + 1];
            if (c >= cost) continue;
            const by = e - s[jj] + t[ii];
            const at = i * WINDOW + i - ii - 1;
            const over = (by < 0 ? -by : by) - stepFree[at];
            const inStep =
              over <= 0 ? keep : over >= stepWidth[at] ? wt : keep + (move * over) / stepWidth[at];
            c += absT < inStep ? absT : inStep;
            if (c >= cost) continue;
            if (absP > 0) {
              const rel = wpj * (pitchShift + (1 - pitchShift) * pitchShare(d - q[jj] + p[ii]));
              c += rel < absP ? rel : absP;
            }
            if (c < cost) {
              cost = c;
              from = prev;
            }
          }
        }
      }
    }
    if (mayGoBack) {
      // Going back: the offset is the player's to choose anew, as on a first note in step.
      const r = back[set * n + i] + restart + absP + (absT < keep ? absT : keep);
      if (r < cost) {
        cost = r;
        from = -2 - backAt[set * n + i];
      }
    }
    return cost;
  };

  let open = true;
  for (let set = 1; set < sets; set++) {
    const taken = size[set];
    if (taken > size[set - 1]) {
      // Whatever comes later passes through one of the sets of each size.
      if (!open) return DEARER;
      open = false;
    }
    const row = set * n;
    any.fill(Infinity, row, row + n);
    if (mayGoBack) back.fill(Infinity, row, row + n);
    // Cells that so many notes left out or put in could reach within the bound.
    const low = Math.max(
      0,
      mayGoBack ? 0 : taken - 1 - Math.floor(bound / leastExtra),
      Math.ceil((taken - 1) * slant - band),
    );
    const high = Math.min(
      n - 1,
      taken - 1 + Math.floor(bound / rule.missed),
      Math.floor((taken - 1) * slant + band),
    );
    if (extras[set] <= bound) open = true;
    for (let step = into[set]; step < into[set + 1]; step++) {
      const cells = step * n;
      best.fill(Infinity, cells, cells + n);
      const [before, j] = [source[step], note[step]];
      const price = late[step] * perSec;
      for (let i = low; i <= high; i++) {
        const limit = bound - rest(i, taken) - price;
        if (limit < 0) continue;
        const cost = reach(i, j, before, limit);
        if (!(cost < limit)) continue;
        best[cells + i] = cost + price;
        bestFrom[cells + i] = from;
        if (cost + price < any[row + i]) {
          any[row + i] = cost + price;
          anyAt[row + i] = cells + i;
        }
      }
      if (before === 0) continue;
      // One more note that answers none.
      const earlier = before * n;
      for (let i = low; i <= high; i++)
        if (any[earlier + i] + extra[j] < any[row + i]) {
          any[row + i] = any[earlier + i] + extra[j];
          anyAt[row + i] = anyAt[earlier + i];
        }
    }
    for (let i = low; i <= high; i++) {
      // Of equal readings the one that leaves the end out, not the beginning.
      if (i > 0 && any[row + i - 1] + missed[i] <= any[row + i]) {
        any[row + i] = any[row + i - 1] + missed[i];
        anyAt[row + i] = anyAt[row + i - 1];
      }
      if (!open && any[row + i] <= bound - rest(i, taken)) open = true;
    }
    if (!mayGoBack) continue;
    for (let step = into[set]; step < into[set + 1]; step++) {
      const [cells, earlier, x] = [step * n, source[step] * n, extra[note[step]]];
      for (let i = n - 1; i >= 0; i--) {
        if (best[cells + i] < back[row + i]) {
          back[row + i] = best[cells + i];
          backAt[row + i] = cells + i;
        }
        if (earlier > 0 && back[earlier + i] + x < back[row + i]) {
          back[row + i] = back[earlier + i] + x;
          backAt[row + i] = backAt[earlier + i];
        }
        if (i < n - 1 && back[row + i + 1] < back[row + i]) {
          back[row + i] = back[row + i + 1];
          backAt[row + i] = backAt[row + i + 1];
        }
      }
    }
  }
  const all = sets * n - 1;
  const nothing = missedBefore[n] + extraBefore[m];
  if (any[all] >= nothing) return nothing <= bound ? { cost: nothing, matches: [] } : DEARER;
  return any[all] < Infinity ? { cost: any[all], matches: trace(anyAt[all], n, note) } : DEARER;
}

const DEARER: Alignment = { cost: Infinity, matches: [] };

function trace(end: number, n: number, note: Int32Array): Match[] {
  const matches: Match[] = [];
  let node = end;
  while (node >= 0) {
    const from = bestFrom[node];
    matches.push({ i: node % n, j: note[Math.floor(node / n)], restart: from <= -2 });
    node = from <= -2 ? -2 - from : from;
  }
  return matches.reverse();
}

function prefix(values: Float64Array): Float64Array {
  const sums = new Float64Array(values.length + 1);
  for (let k = 0; k < values.length; k++) sums[k + 1] = sums[k] + values[k];
  return sums;
}
