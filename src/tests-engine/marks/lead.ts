import { pitchShare, type Frame } from './cost.ts';
import type { Rule } from './rule.ts';
import { FREE_LEAD_SEC } from './tolerances.ts';

/**
 * Where a take as a whole may lie against the backing. Its **centre** is the lead at which the sharp reading is cheapest:
 * nothing free in time, no credit for keeping step. A note's sharp price rises with its distance and ends where a note is
 * wholly out of time, so that the centre is a median of the notes near it, deaf to stray ones.
 */

/**
 * Share of the pitch points that the sharp reading takes, over the toll's price: pitches tell a take from the same one a
 * note further on, but a cent, or a note that changes places, must not move the toll as far as the mark.
 */
const PITCH_SHARE = 1 / 3;

/** The rule of the sharp reading: a passage beside the beat is beside the beat. @param price points of the toll for each */
export const sharp = (rule: Rule, price: number): Rule => ({
  ...rule,
  displaced: rule.time,
  pitch: (rule.pitch * PITCH_SHARE) / price,
});
/** Its limits: nothing free in time. */
export const sharpLimits = <T extends Pick<Frame, 'tol' | 'borrow'>>(limits: T, price: number): T => ({
  ...limits,
  tol: new Float64Array(limits.tol.length),
  borrow: (limits.borrow * PITCH_SHARE) / price,
});

/** Leads that can be taken out, seconds: what is free and what the latency leaves open. */
export const rangeOf = (latencySec: number): readonly [number, number] => [
  -FREE_LEAD_SEC - latencySec,
  latencySec,
];
/** Seconds beyond that in which a centre is looked for: two beats and more. */
const BEYOND_SEC = 1.5;
/**
 * Points of the sharp reading for each second beyond: three quarters of a point at a beat of 0.6 s, so that a take with
 * mistakes is not rather found a beat further off. The mark moves by a twentieth a millisecond for it, and that seldom.
 */
const BEYOND_PER_SEC = 1.25;
export const beyond = (lead: number, [low, high]: readonly [number, number]): number =>
  BEYOND_PER_SEC * Math.max(0, low - lead, lead - high);

/** Leads so close are one: rounding of sums. */
const SAME_SEC = 1e-9;
/** More than these are thinned out: only in lists so crowded that a millisecond more or less of lead is all one. */
const MOST_LEADS = 3000;

/**
 * Leads that are offered, ascending: prices are straight between these. The cheapest lead of all stands where a played
 * note meets a written one, or the end of its full credit, or at the end of the range.
 */
export function leadsOf({ t, s, tol }: Pick<Frame, 't' | 's' | 'tol'>, latencySec: number): Float64Array {
  const [low, high] = rangeOf(latencySec);
  const [least, most] = [low - BEYOND_SEC, high + BEYOND_SEC];
  const room = new Float64Array(5 + 3 * t.length * s.length);
  room.set([least, low, 0, high, most]);
  let filled = 5;
  for (let i = 0; i < t.length; i++)
    for (let j = 0; j < s.length; j++) {
      const e = s[j]! - t[i]!;
      if (e < least) continue;
      if (e > most) break;
      room[filled++] = e;
      if (e - tol[i]! > low && e - tol[i]! < high) room[filled++] = e - tol[i]!;
      if (e + tol[i]! > low && e + tol[i]! < high) room[filled++] = e + tol[i]!;
    }
  const all = room.subarray(0, filled).sort();
  const stride = Math.ceil(all.length / MOST_LEADS);
  let [count, last] = [0, -Infinity];
  for (let k = 0; k < all.length; k++) {
    const x = all[k]!;
    const end = x === low || x === high;
    if (x === last || (!end && (k % stride > 0 || x - last <= SAME_SEC))) continue;
    all[count++] = last = x;
  }
  return all.subarray(0, count);
}

/**
 * What the sharp reading of a frame costs at least with a lead taken out: each written note at its own cheapest.
 *
 * @returns function of the lead; once over `enough` it may stop counting
 */
export function sharpLeast(frame: Frame, rule: Rule): (lead: number, enough: number) => number {
  const { t, s, width } = frame;
  const [n, m] = [t.length, s.length];
  const pitch = pitchLeast(frame, rule);
  const { time } = rule;
  const none = Math.min(rule.missed, time);
  const slope = new Float64Array(n);
  let reach = 0;
  for (let i = 0; i < n; i++) {
    slope[i] = time / width[i]!;
    if (width[i]! > reach) reach = width[i]!;
  }
  return (lead, enough) => {
    let [sum, from] = [0, 0];
    for (let i = 0; i < n && sum <= enough; i++) {
      const due = t[i]! + lead;
      while (from < m && s[from]! <= due - reach) from++;
      let least = none;
      for (let j = from; j < m; j++) {
        const e = s[j]! - due;
        if (e >= reach) break;
        const cost = slope[i]! * (e < 0 ? -e : e) + (pitch === null ? 0 : pitch[i * m + j]!);
        if (cost < least) least = cost;
      }
      sum += least;
    }
    return sum;
  };
}

/** Longer lists are bounded by their times alone. */
const MOST_PITCHES = 4000;

/** Points that the pitch of played note j costs at least on written note i (at i m + j), neighbours' pitches included. */
function pitchLeast({ p, s, q, trust, borrow }: Frame, rule: Rule): Float64Array | null {
  const [n, m] = [p.length, q.length];
  if (!(rule.pitch > 0) || n * m > MOST_PITCHES) return null;
  const own = new Float64Array(n * m);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < m; j++) {
      const d = q[j]! - p[i]!;
      const most = rule.pitchShift;
      if (d === d) {
        const share = pitchShare(d, 0);
        own[i * m + j] = rule.pitch * trust[j]! * (share < most ? share : most);
      }
    }
  let least: Float64Array | null = null;
  for (let j = 0; j < m; j++)
    for (let way = -1; way <= 1; way += 2)
      for (let k = j + way; k >= 0 && k < m; k += way) {
        const price = borrow * Math.abs(s[k]! - s[j]!);
        if (price >= rule.pitch) break;
        least ??= own.slice();
        for (let i = 0; i < n; i++) {
          const x = own[i * m + k]! + price;
          if (x < least[i * m + j]!) least[i * m + j] = x;
        }
      }
  return least ?? own;
}
