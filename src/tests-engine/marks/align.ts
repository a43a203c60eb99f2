import { pitchShare, ramp, stepShare, WINDOW, type Frame } from './cost.ts';
import { restartPrice, type Rule } from './rule.ts';
import { soundsOf, type Sounds } from './sounds.ts';

/** One answered note, in the order written between restarts. */
export interface Match {
  readonly i: number;
  readonly j: number;
  /** The played note whose pitch is taken: j itself, or one struck near it (`sounds.ts`). */
  readonly source: number;
  readonly restart: boolean;
}
export interface Alignment {
  /** Points; Infinity where it is more than the bound given. */
  readonly cost: number;
  readonly matches: readonly Match[];
}

// One table for all calls. Sound k and written note i at k * n + i: cheapest way that ends with the sound answering i,
// and the node before it (-1: none, -2 - node: gone back after it).
let best = new Float64Array(0);
let bestFrom = new Int32Array(0);
// After `taken` played notes, at taken * n + i: cheapest way up to i with what was left out since; cheapest answer so
// far from which i can be gone back to; the nodes where they are found.
let [any, back] = [new Float64Array(0), new Float64Array(0)];
let [anyAt, backAt] = [new Int32Array(0), new Int32Array(0)];
function reserve(n: number, sounds: number, taken: number): void {
  if (sounds * n > best.length) {
    best = new Float64Array(sounds * n);
    bestFrom = new Int32Array(sounds * n);
  }
  if (taken * n > any.length) {
    [any, back] = [new Float64Array(taken * n), new Float64Array(taken * n)];
    [anyAt, backAt] = [new Int32Array(taken * n), new Int32Array(taken * n)];
  }
}

/** Lists longer than a page of music (cells of the table) are bounded first. */
const BANDED_FROM = 10_000;
/** Notes either side of the diagonal in the bounding pass: two bars of quavers. */
const BAND = 16;
/** Sums of a few hundred costs agree to this. */
const ROUNDING = 1e-9;

/**
 * The cheapest way to read the played notes as an attempt at the written ones. Exact: every assignment in order of time,
 * with any number of jumps back, is covered.
 *
 * @param bound readings dearer than this are of no use: the cost may come out as Infinity
 */
export function align(f: Frame, rule: Rule, bound = Infinity): Alignment {
  const cost = alignCost(f, rule, bound);
  return { cost, matches: cost < Infinity && last >= 0 ? trace(last, f.t.length, sounds) : [] };
}

/** What `align` finds, without the way. */
export function alignCost(f: Frame, rule: Rule, bound = Infinity): number {
  let limit = bound < Infinity ? bound : straight(f, rule);
  if (f.t.length * f.s.length > BANDED_FROM)
    limit = Math.min(limit, pass(f, rule, limit * (1 + ROUNDING) + ROUNDING, BAND));
  return pass(f, rule, limit * (1 + ROUNDING) + ROUNDING, Infinity);
}

/** Cost of the simplest reading, first to first and so on: no cheapest one is dearer. */
function straight(f: Frame, rule: Rule): number {
  const { t, p, s, q, tol, width, extraBefore, trust, bend } = f;
  const both = Math.min(t.length, s.length);
  let cost = 0;
  for (let k = 0; k < both; k++) {
    const d = q[k]! - p[k]!;
    if (d === d) cost += rule.pitch * trust[k]! * pitchShare(d, bend);
    if (f.beat) cost += rule.time * ramp(s[k]! - t[k]!, tol[k]!, width[k]!);
    else if (k > 0) cost += rule.time * stepShare(f, k, k - 1, s[k]! - s[k - 1]! - (t[k]! - t[k - 1]!));
  }
  return cost + (t.length - both) * rule.missed + extraBefore[s.length]! - extraBefore[both]!;
}

/** Where the way of the last pass ends, -1 where nothing is answered, and the sounds it was made of. */
let last = -1;
let sounds: Sounds;

/** Cost of the cheapest way within `band` notes of the diagonal; Infinity where it is over `bound`. */
function pass(f: Frame, rule: Rule, bound: number, band: number): number {
  const n = f.t.length;
  const m = f.s.length;
  const { t, p, s, q, tol, width, extra, extraBefore, trust, beat, stepFree, stepWidth, slack, bend } = f;
  const { pitch: wp, time: wt, pitchShift, missed } = rule;
  // Its own points, and those of the next note that is judged against it.
  sounds = soundsOf(s, q, f.borrow, wp * (2 - pitchShift), n);
  const { from: first, source, price } = sounds;
  reserve(n, first[m]!, m + 1);
  const restart = restartPrice(rule);
  const keep = beat ? rule.displaced : 0;
  const move = wt - keep;
  const slant = n / m;
  const leastExtra = Math.min(f.leastExtra, restart);
  /** Points that are certainly lost after written note i and `taken` played ones. */
  const rest = (i: number, taken: number): number => {
    const more = n - 1 - i - (m - taken);
    if (more >= 0) return more * missed;
    const over = -more * leastExtra;
    return over < restart ? over : restart;
  };
  const mayGoBack = restart <= bound;

  let from = -1;
  /** Cheapest way to have note j, sounding as `k`, answer i, if under `limit`; `from` is the node before. */
  const reach = (i: number, j: number, k: number, limit: number): number => {
    const e = s[j]! - t[i]!;
    const d = q[k]! - p[i]!;
    const wpj = wp > 0 && d === d ? wp * trust[k]! : 0;
    const absP = wpj > 0 ? wpj * pitchShare(d, bend) : 0;
    const absT = beat ? wt * ramp(e, tol[i]!, width[i]!) : wt;
    from = -1;
    // The first note answered has none to keep step with: by the beat alone, or free where the start is free.
    let cost = i * missed + extraBefore[j]! + absP + (beat ? absT : 0);
    if (!(cost < limit)) cost = limit;
    if (j === 0) return cost;
    if (i > 0) {
      const g = any[j * n + i - 1]! + absP + absT;
      if (g < cost) {
        cost = g;
        from = anyAt[j * n + i - 1]!;
      }
      const iLow = i > WINDOW ? i - WINDOW : 0;
      for (let jj = j - 1; jj >= 0; jj--) {
        const between = extraBefore[j]! - extraBefore[jj + 1]!;
        // What is cheapest with the rest as extra notes only gets dearer the fewer are taken in.
        if (any[(jj + 1) * n + i - 1]! + between >= cost) break;
        const give = slack * (s[j]! - s[jj]!);
        for (let node = first[jj]!; node < first[jj + 1]!; node++)
          for (let ii = i - 1; ii >= iLow; ii--) {
            const prev = node * n + ii;
            let c = best[prev]! + between + (i - ii - 1) * missed;
            if (c >= cost) continue;
            const by = e - s[jj]! + t[ii]!;
            const at = i * WINDOW + i - ii - 1;
            const over = (by < 0 ? -by : by) - stepFree[at]! - give;
            const inStep =
              over <= 0 ? keep : over >= stepWidth[at]! ? wt : keep + (move * over) / stepWidth[at]!;
            c += absT < inStep ? absT : inStep;
            if (c >= cost) continue;
            if (absP > 0) {
              const rel =
                wpj * (pitchShift + (1 - pitchShift) * pitchShare(d - q[source[node]!]! + p[ii]!, 0));
              c += rel < absP ? rel : absP;
            }
            if (c < cost) {
              cost = c;
              from = prev;
            }
          }
      }
    }
    if (mayGoBack) {
      // Going back: the offset is the player's to choose anew, as on a first note in step.
      const r = back[j * n + i]! + restart + absP + (absT < keep ? absT : keep);
      if (r < cost) {
        cost = r;
        from = -2 - backAt[j * n + i]!;
      }
    }
    return cost;
  };

  for (let j = 0; j < m; j++) {
    const taken = j + 1;
    const row = taken * n;
    const earlier = row - n;
    any.fill(Infinity, row, row + n);
    if (mayGoBack) back.fill(Infinity, row, row + n);
    // Cells that so many notes left out or put in could reach within the bound.
    const low = Math.max(0, mayGoBack ? 0 : j - Math.floor(bound / leastExtra), Math.ceil(j * slant - band));
    const high = Math.min(n - 1, j + Math.floor(bound / missed), Math.floor(j * slant + band));
    for (let node = first[j]!; node < first[taken]!; node++) {
      const cells = node * n;
      best.fill(Infinity, cells, cells + n);
      for (let i = low; i <= high; i++) {
        const limit = bound - rest(i, taken) - price[node]!;
        if (limit < 0) continue;
        const cost = reach(i, j, source[node]!, limit);
        if (!(cost < limit)) continue;
        best[cells + i] = cost + price[node]!;
        bestFrom[cells + i] = from;
        if (cost + price[node]! < any[row + i]!) {
          any[row + i] = cost + price[node]!;
          anyAt[row + i] = cells + i;
        }
      }
    }
    let open = extraBefore[taken]! <= bound;
    for (let i = low; i <= high; i++) {
      // One more note that answers none.
      if (j > 0 && any[earlier + i]! + extra[j]! < any[row + i]!) {
        any[row + i] = any[earlier + i]! + extra[j]!;
        anyAt[row + i] = anyAt[earlier + i]!;
      }
      // Of equal readings the one that leaves the end out, not the beginning.
      if (i > 0 && any[row + i - 1]! + missed <= any[row + i]!) {
        any[row + i] = any[row + i - 1]! + missed;
        anyAt[row + i] = anyAt[row + i - 1]!;
      }
      if (!open && any[row + i]! <= bound - rest(i, taken)) open = true;
    }
    if (!open) return Infinity;
    if (!mayGoBack) continue;
    for (let i = n - 1; i >= 0; i--) {
      for (let node = first[j]!; node < first[taken]!; node++)
        if (best[node * n + i]! < back[row + i]!) {
          back[row + i] = best[node * n + i]!;
          backAt[row + i] = node * n + i;
        }
      if (j > 0 && back[earlier + i]! + extra[j]! < back[row + i]!) {
        back[row + i] = back[earlier + i]! + extra[j]!;
        backAt[row + i] = backAt[earlier + i]!;
      }
      if (i < n - 1 && back[row + i + 1]! < back[row + i]!) {
        back[row + i] = back[row + i + 1]!;
        backAt[row + i] = backAt[row + i + 1]!;
      }
    }
  }
  const all = (m + 1) * n - 1;
  const nothing = n * missed + extraBefore[m]!;
  last = any[all]! < nothing ? anyAt[all]! : -1;
  const cost = last < 0 ? nothing : any[all]!;
  return cost <= bound ? cost : Infinity;
}

function trace(end: number, n: number, { struck, source }: Sounds): Match[] {
  const matches: Match[] = [];
  let node = end;
  while (node >= 0) {
    const from = bestFrom[node]!;
    const k = Math.floor(node / n);
    matches.push({ i: node % n, j: struck[k]!, source: source[k]!, restart: from <= -2 });
    node = from <= -2 ? -2 - from : from;
  }
  return matches.reverse();
}
