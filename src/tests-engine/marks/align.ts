import { OCTAVE_SHARE, PITCH_FREE, PITCH_WIDTH, type Rule } from './rule.ts';

/** Both note lists brought to one clock and one key. Pitches are NaN where pitch does not count. */
export interface Frame {
  /** Due times, seconds, ascending. */
  readonly t: Float64Array;
  readonly p: Float64Array;
  /** Played times on the target's clock, ascending. */
  readonly s: Float64Array;
  readonly q: Float64Array;
  /** Half-width of full credit and width of the ramp to none, seconds, for each written note. */
  readonly tol: Float64Array;
  readonly width: Float64Array;
  /** Points lost by leaving a written note out, and by playing a note that answers none. */
  readonly missed: Float64Array;
  readonly extra: Float64Array;
  /** 0…1: how far a played note's pitch may be held against the student. */
  readonly trust: Float64Array;
}

/** One answered note, in the order played. `from`: how it was reached. */
export interface Match {
  readonly i: number;
  readonly j: number;
  readonly restart: boolean;
}
export interface Alignment {
  readonly cost: number;
  readonly matches: readonly Match[];
}

/** How far back a note may look for the one it keeps step with; longer gaps are judged by the beat alone. */
export const WINDOW = 3;

export function ramp(x: number, free: number, width: number): number {
  const over = (x < 0 ? -x : x) - free;
  return over <= 0 ? 0 : over >= width ? 1 : over / width;
}
/** Share of a note's pitch points lost at `d` semitones off. */
export function pitchShare(d: number): number {
  const a = d < 0 ? -d : d;
  const own = a <= PITCH_FREE ? 0 : a >= PITCH_FREE + PITCH_WIDTH ? 1 : (a - PITCH_FREE) / PITCH_WIDTH;
  if (own < OCTAVE_SHARE || a < 6) return own;
  const slip = OCTAVE_SHARE + (1 - OCTAVE_SHARE) * ramp(a - 12 * Math.round(a / 12), PITCH_FREE, PITCH_WIDTH);
  return slip < own ? slip : own;
}

let size = 0;
let best: Float64Array, any: Float64Array, back: Float64Array;
let bestFrom: Int32Array, anyAt: Int32Array, backAt: Int32Array;
function reserve(cells: number): void {
  if (cells <= size) return;
  size = cells * 2;
  best = new Float64Array(size);
  any = new Float64Array(size);
  back = new Float64Array(size);
  bestFrom = new Int32Array(size);
  anyAt = new Int32Array(size);
  backAt = new Int32Array(size);
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
 * @param timeShift share of the time points lost by a note that keeps step but is off the beat
 * @param beat false: judge times only from note to note (no common start is known yet)
 */
export function align(f: Frame, rule: Rule, timeShift: number, beat: boolean): Alignment {
  // Long lists: a pass near the diagonal bounds the cost, so that the full one can leave out what is dearer.
  const bound =
    f.t.length * f.s.length > BANDED_FROM
      ? pass(f, rule, timeShift, beat, Infinity, BAND).cost * (1 + ROUNDING) + ROUNDING
      : Infinity;
  return pass(f, rule, timeShift, beat, bound, Infinity);
}

function pass(
  f: Frame,
  rule: Rule,
  timeShift: number,
  beat: boolean,
  bound: number,
  band: number,
): Alignment {
  const n = f.t.length;
  const m = f.s.length;
  reserve(n * m);
  const { t, p, s, q, tol, width, missed, extra, trust } = f;
  const missedBefore = prefix(missed);
  const extraBefore = prefix(extra);
  const { pitch: wp, time: wt, pitchShift } = rule;
  const keep = beat ? timeShift : 0;
  const slant = n / m;
  // any: cheapest up to here, with what was left out since; at its own cell.
  const carry = (at: number, i: number, j: number, cost: number): void => {
    best[at] = cost;
    let a = cost;
    let aAt = at;
    if (i > 0 && any[at - 1] + missed[i] < a) {
      a = any[at - 1] + missed[i];
      aAt = anyAt[at - 1];
    }
    if (j > 0 && any[at - n] + extra[j] < a) {
      a = any[at - n] + extra[j];
      aAt = anyAt[at - n];
    }
    any[at] = a;
    anyAt[at] = aAt;
  };
  for (let j = 0; j < m; j++) {
    for (let i = 0; i < n; i++) {
      const at = j * n + i;
      const start = missedBefore[i] + extraBefore[j];
      const diagonal = i > 0 && j > 0 ? any[at - n - 1] : Infinity;
      const again = j > 0 ? back[at - n] + rule.restart : Infinity;
      if ((start > bound && diagonal > bound && again > bound) || Math.abs(i - j * slant) > band) {
        carry(at, i, j, Infinity);
        continue;
      }
      const e = s[j] - t[i];
      const d = q[j] - p[i];
      const pitched = wp > 0 && d === d;
      const wpj = wp * trust[j];
      const absP = pitched ? wpj * pitchShare(d) : 0;
      const absT = beat ? wt * ramp(e, tol[i], width[i]) : wt;
      // The first note answered has none to keep step with: by the beat alone, or free where the start is free.
      let cost = start + absP + (beat ? absT : 0);
      let from = -1;
      if (i > 0 && j > 0) {
        const g = diagonal + absP + absT;
        if (g < cost) {
          cost = g;
          from = anyAt[at - n - 1];
        }
        const iLow = i > WINDOW ? i - WINDOW : 0;
        const jLow = j > WINDOW ? j - WINDOW : 0;
        for (let jj = j - 1; jj >= jLow; jj--)
          for (let ii = i - 1; ii >= iLow; ii--) {
            const prev = jj * n + ii;
            let c =
              best[prev] + (missedBefore[i] - missedBefore[ii + 1]) + (extraBefore[j] - extraBefore[jj + 1]);
            if (c >= cost) continue;
            let tCost = wt * (keep + (1 - keep) * ramp(e - (s[jj] - t[ii]), tol[i], width[i]));
            if (absT < tCost) tCost = absT;
            c += tCost;
            if (c >= cost) continue;
            if (absP > 0) {
              const rel = wpj * (pitchShift + (1 - pitchShift) * pitchShare(d - (q[jj] - p[ii])));
              c += rel < absP ? rel : absP;
            }
            if (c < cost) {
              cost = c;
              from = prev;
            }
          }
      }
      if (j > 0) {
        // Going back: the offset is the player's to choose anew, as on a first note in step.
        const r = again + absP + Math.min(absT, wt * keep);
        if (r < cost) {
          cost = r;
          from = -2 - backAt[at - n];
        }
      }
      bestFrom[at] = from;
      carry(at, i, j, cost);
    }
    for (let i = n - 1; i >= 0; i--) {
      const at = j * n + i;
      let b = best[at];
      let bAt = at;
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
  if (any[all] >= nothing) return { cost: nothing, matches: [] };
  const matches: Match[] = [];
  let at = anyAt[all];
  while (at >= 0) {
    const from = bestFrom[at];
    const restart = from <= -2;
    matches.push({ i: at % n, j: Math.floor(at / n), restart });
    at = restart ? -2 - from : from;
  }
  matches.reverse();
  return { cost: any[all], matches };
}

function prefix(values: Float64Array): Float64Array {
  const sums = new Float64Array(values.length + 1);
  for (let k = 0; k < values.length; k++) sums[k + 1] = sums[k] + values[k];
  return sums;
}
