import { pitchShare, ramp, stepShare, WINDOW, type Frame } from './cost.ts';
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
 * Notes nearer than this may be taken in either order, at a price that grows from nothing to that of a missed and an
 * extra note: which of two came first is heard from about 20 ms on (Hirsh 1959), safely at three times that. Without
 * it the mark would jump where two notes change places.
 */
export const SWAP_SEC = 0.06;

export const swapPrice = (gapSec: number, rule: Rule): number =>
  (gapSec / SWAP_SEC) * (rule.missed + rule.extra);

// One table for all calls. Cell (i, j) at j * n + i; a node at or over `size` is its swapped answer.
let size = 0;
/** Cheapest way that ends with j answering i; with j answering the note before and j - 1 answering i. */
let best: Float64Array, swapped: Float64Array;
/** Cheapest up to here with what was left out since; cheapest answer so far from which i can be gone back to. */
let any: Float64Array, back: Float64Array;
let bestFrom: Int32Array, swappedFrom: Int32Array, swappedFirst: Int32Array;
let anyAt: Int32Array, backAt: Int32Array;
function reserve(cells: number): void {
  if (cells <= size) return;
  size = cells;
  [best, swapped, any, back] = Array.from({ length: 4 }, () => new Float64Array(size));
  [bestFrom, swappedFrom, swappedFirst, anyAt, backAt] = Array.from(
    { length: 5 },
    () => new Int32Array(size),
  );
}

/** Lists longer than a page of music (cells of the table) are bounded first. */
const BANDED_FROM = 10_000;
/** Notes either side of the diagonal in the bounding pass: two bars of quavers. */
const BAND = 16;
/** Sums of a few hundred costs agree to this. */
const ROUNDING = 1e-9;

/**
 * The cheapest way to read `played` as an attempt at `target`. Exact: every order-keeping assignment, with any number
 * of jumps back, is covered.
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
  reserve(n * m);
  const { t, p, s, q, tol, width, missed, extra, trust, beat, stepFree, stepWidth } = f;
  const missedBefore = prefix(missed);
  const extraBefore = prefix(extra);
  const { pitch: wp, time: wt, pitchShift } = rule;
  const restart = restartPrice(rule);
  const keep = beat ? rule.displaced : 0;
  const move = wt - keep;
  // Rhythms have nothing to tell two notes by.
  const pitched = q[0] === q[0] && p[0] === p[0];
  const slant = n / m;
  const leastExtra = extra.reduce((a, b) => Math.min(a, b), restart);
  /** Points that are certainly lost after (i, j). */
  const rest = (i: number, j: number): number => {
    const more = n - 1 - i - (m - 1 - j);
    if (more >= 0) return more * rule.missed;
    const over = -more * leastExtra;
    return over < restart ? over : restart;
  };
  const mayGoBack = restart <= bound;

  let from = -1;
  /** Cheapest way to have j answer i with nothing after row `row` used, if under `limit`; `from` is the node before. */
  const reach = (i: number, j: number, row: number, limit: number): number => {
    const e = s[j] - t[i];
    const d = q[j] - p[i];
    const wpj = wp > 0 && d === d ? wp * trust[j] : 0;
    const absP = wpj > 0 ? wpj * pitchShare(d) : 0;
    const absT = beat ? wt * ramp(e, tol[i], width[i]) : wt;
    from = -1;
    // The first note answered has none to keep step with: by the beat alone, or free where the start is free.
    let cost = missedBefore[i] + extraBefore[row + 1] + absP + (beat ? absT : 0);
    if (!(cost < limit)) cost = limit;
    if (row < 0) return cost;
    if (i > 0) {
      const g = any[row * n + i - 1] + absP + absT;
      if (g < cost) {
        cost = g;
        from = anyAt[row * n + i - 1];
      }
      const iLow = i > WINDOW ? i - WINDOW : 0;
      const jLow = row + 1 > WINDOW ? row + 1 - WINDOW : 0;
      for (let jj = row; jj >= jLow; jj--) {
        const between = extraBefore[row + 1] - extraBefore[jj + 1];
        if (between >= cost) break;
        for (let ii = i - 1; ii >= iLow; ii--) {
          const prev = jj * n + ii;
          const skip = between + missedBefore[i] - missedBefore[ii + 1];
          for (let x = 0; x < 2; x++) {
            let c = (x === 0 ? best[prev] : swapped[prev]) + skip;
            if (c >= cost) continue;
            const step = e - s[jj - x] + t[ii];
            const at = i * WINDOW + i - ii - 1;
            const over = (step < 0 ? -step : step) - stepFree[at];
            const inStep =
              over <= 0 ? keep : over >= stepWidth[at] ? wt : keep + (move * over) / stepWidth[at];
            c += absT < inStep ? absT : inStep;
            if (c >= cost) continue;
            if (absP > 0) {
              const rel = wpj * (pitchShift + (1 - pitchShift) * pitchShare(d - q[jj - x] + p[ii]));
              c += rel < absP ? rel : absP;
            }
            if (c < cost) {
              cost = c;
              from = prev + x * size;
            }
          }
        }
      }
    }
    if (mayGoBack) {
      // Going back: the offset is the player's to choose anew, as on a first note in step.
      const r = back[row * n + i] + restart + absP + (absT < keep ? absT : keep);
      if (r < cost) {
        cost = r;
        from = -2 - backAt[row * n + i];
      }
    }
    return cost;
  };
  /** As `reach`, for two notes struck almost together: j answers the one before i, j - 1 answers i. */
  const reachSwapped = (i: number, j: number, price: number, limit: number): number => {
    let cost = limit;
    const at = j * n + i;
    const e = s[j - 1] - t[i];
    const d = q[j - 1] - p[i];
    const absT = beat ? wt * ramp(e, tol[i], width[i]) : wt;
    for (let ii = i - 1; ii >= 0; ii--) {
      let c = reach(ii, j, j - 2, limit);
      if (c >= cost) continue;
      c += price + missedBefore[i] - missedBefore[ii + 1];
      const step = i - ii > WINDOW ? absT : keep + move * stepShare(f, i, ii, e - (s[j] - t[ii]));
      c += absT < step ? absT : step;
      if (i - ii > WINDOW) c += d === d ? wp * trust[j - 1] * pitchShare(d) : 0;
      else if (d === d) {
        const rel = pitchShift + (1 - pitchShift) * pitchShare(d - (q[j] - p[ii]));
        c += wp * trust[j - 1] * Math.min(pitchShare(d), rel);
      }
      if (c >= cost) continue;
      cost = c;
      swappedFrom[at] = from;
      swappedFirst[at] = ii;
    }
    return cost;
  };

  for (let j = 0; j < m; j++) {
    const row = j * n;
    for (const table of [best, swapped, any]) table.fill(Infinity, row, row + n);
    if (mayGoBack) back.fill(Infinity, row, row + n);
    const gap = j > 0 && pitched ? s[j] - s[j - 1] : Infinity;
    // Cells that so many notes left out or put in could reach within the bound.
    const low = Math.max(0, mayGoBack ? 0 : j - Math.floor(bound / leastExtra), Math.ceil(j * slant - band));
    const high = Math.min(n - 1, j + Math.floor(bound / rule.missed), Math.floor(j * slant + band));
    let open = extraBefore[j + 1] <= bound;
    for (let i = low; i <= high; i++) {
      const at = row + i;
      const limit = bound - rest(i, j);
      let a = Infinity;
      let aAt = at;
      if (limit >= 0) {
        const cost = reach(i, j, j - 1, limit);
        if (cost < limit) {
          a = best[at] = cost;
          bestFrom[at] = from;
        }
        if (gap < SWAP_SEC && i > 0) {
          const other = reachSwapped(i, j, swapPrice(gap, rule), limit);
          if (other < limit) {
            swapped[at] = other;
            if (other < a) {
              a = other;
              aAt = at + size;
            }
          }
        }
      }
      // Of equal readings the one that leaves the end out, not the beginning.
      if (i > 0 && any[at - 1] + missed[i] <= a) {
        a = any[at - 1] + missed[i];
        aAt = anyAt[at - 1];
      }
      if (j > 0 && any[at - n] + extra[j] < a) {
        a = any[at - n] + extra[j];
        aAt = anyAt[at - n];
      }
      any[at] = a;
      anyAt[at] = aAt;
      if (!open && a <= limit) open = true;
    }
    // Whatever comes after this row passes through it, but for a swapped pair.
    if (!open && !(pitched && j + 1 < m && s[j + 1] - s[j] < SWAP_SEC)) return DEARER;
    if (!mayGoBack) continue;
    for (let i = n - 1; i >= 0; i--) {
      const at = row + i;
      let b = best[at];
      let bAt = at;
      if (swapped[at] < b) {
        b = swapped[at];
        bAt = at + size;
      }
      if (i < n - 1 && back[at + 1] < b) {
        b = back[at + 1];
        bAt = backAt[at + 1];
      }
      if (j > 0 && back[at - n] + extra[j] < b) {
        b = back[at - n] + extra[j];
        bAt = backAt[at - n];
      }
      back[at] = b;
      backAt[at] = bAt;
    }
  }
  const all = n * m - 1;
  const nothing = missedBefore[n] + extraBefore[m];
  if (any[all] >= nothing) return nothing <= bound ? { cost: nothing, matches: [] } : DEARER;
  return any[all] < Infinity ? { cost: any[all], matches: trace(anyAt[all], n) } : DEARER;
}

const DEARER: Alignment = { cost: Infinity, matches: [] };

function trace(end: number, n: number): Match[] {
  const matches: Match[] = [];
  let node = end;
  while (node >= 0) {
    const at = node < size ? node : node - size;
    const [i, j] = [at % n, Math.floor(at / n)];
    let from = bestFrom[at];
    if (node >= size) {
      matches.push({ i, j: j - 1, restart: false });
      from = swappedFrom[at];
      matches.push({ i: swappedFirst[at], j, restart: from <= -2 });
    } else matches.push({ i, j, restart: from <= -2 });
    node = from <= -2 ? -2 - from : from;
  }
  return matches.reverse();
}

function prefix(values: Float64Array): Float64Array {
  const sums = new Float64Array(values.length + 1);
  for (let k = 0; k < values.length; k++) sums[k + 1] = sums[k] + values[k];
  return sums;
}
