import { median } from '../../music/numbers.ts';
import { LOWEST } from '../pitch/salience.ts';
import { harmonics } from '../signal/goertzel.ts';
import { ms, WORK_RATE } from '../signal/prepared.ts';
import type { Prepared } from '../signal/prepared.ts';

/**
 * Does what rang before an attack go on as if nothing had been plucked? A hand on the body, a finger on the frets or a
 * few lost samples leave a ringing string's partials as they are; a pluck renews them or lets others rise. Looked at in a
 * window of 48 ms that begins 30 ms after the attack, when a knock has mostly died away: sooner where the next attack is
 * near, as a hand lands most often 60–110 ms before a pluck. Growths are decibels over ten.
 *
 * `renewNew`, `renewHigh`, `renewOld`: median growth of the first four and of the fifth to eighth partial of the pitch
 * heard after, and of the first four of the pitch heard before. `stayNew`, `stayOld`: the first and the last of these
 * 62–110 ms after the attack where there is room, else the same again. `longNew`, `longOld`: over 96 ms before and after,
 * in which E1 has four periods; where there is no room, the same again. `carried`: each of the first six partials heard
 * before is followed through the attack at the frequency it had; the cosine of the angle by which it misses, weighed by
 * amplitude (1 goes on, about 0 begins anew). `slipped`: the same after the one shift in time, up to 12 ms, that explains
 * most: samples that were lost. `novel`: power that the continuation does not explain, over the power before. `height`:
 * the pitch heard after, octaves over the lowest. `since`, `until`: to the plucks around, seconds, at most 0.5.
 */
export const GOING_ON = [
  'renewNew',
  'renewHigh',
  'renewOld',
  'stayNew',
  'stayOld',
  'longNew',
  'longOld',
  'carried',
  'slipped',
  'novel',
  'height',
  'since',
  'until',
] as const;

const FIRST = 4;
const FOLLOWED = 6;
const ALL = 8;
/** Partials this far under the strongest count as that strong: −40 dB. */
const FLOOR = 0.01;
/** At half the working rate. */
const half = (time: number): number => Math.round(ms(time) / 2);
const LENGTH = half(48);
const LONG = half(96);
const LATE = half(30);
const STAY = half(62);
/** The window moves up to 4 ms after the attack at most, and ends 3 ms before the next. */
const SOONEST = half(4);
const CLEAR = half(3);
/** From the end of the window before the attack to the attack. */
const APART = half(4);
/** Two windows so far apart tell a partial's frequency to ±33 Hz: a fundamental half a semitone off up to C5, a sixth to E2. */
const STEP = half(15);
/** Most samples that may have been lost, and the step in which their number is sought. */
const LOST = half(12);
const LOST_STEP = 2;
/** Farther plucks are all alike, s. */
const FAR = 0.5;
const centredHann = (length: number): Float64Array =>
  Float64Array.from({ length }, (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / length));
const shape = centredHann(LENGTH);
const longShape = centredHann(LONG);

/** Partials of a pitch under the window: real and imaginary parts in turn. */
type Partials = Float64Array;

export interface Surroundings {
  /** Indices of the pitches heard before and after. */
  readonly before: number;
  readonly after: number;
  /** The plucks before and after, samples at the working rate; −Infinity and Infinity where there is none. */
  readonly last: number;
  readonly next: number;
}

/** @param t attack, samples at the working rate. @returns as {@link GOING_ON}; zeros for what the take's end hides */
export function goingOn({ half: x }: Prepared, t: number, around: Surroundings): number[] {
  const { before, after, last, next } = around;
  const at = Math.round(t / 2);
  const then = at - APART - LENGTH;
  const times = [after / 12, Math.min(FAR, (t - last) / WORK_RATE), Math.min(FAR, (next - t) / WORK_RATE)];
  const end = Math.min(x.length, next / 2 - CLEAR);
  const wait = Math.max(SOONEST, Math.min(LATE, Math.floor(end) - at - LENGTH));
  if (at + wait + LENGTH > x.length) return [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, ...times];
  const pair = (start: number, taper: Float64Array, newCount: number, oldCount: number) => {
    const fresh = partials(x, start, after, newCount, taper);
    return {
      fresh,
      old: before === after && newCount >= oldCount ? fresh : partials(x, start, before, oldCount, taper),
    };
  };
  const was = pair(then, shape, ALL, FOLLOWED);
  const is = pair(at + wait, shape, ALL, FOLLOWED);
  const floor = FLOOR * Math.max(greatest(is.fresh), greatest(is.old)) + 1e-6;
  const renewNew = growth(was.fresh, is.fresh, 0, floor);
  const renewOld = growth(was.old, is.old, 0, floor);
  let [stayNew, stayOld] = [renewNew, renewOld];
  if (at + STAY + LENGTH <= end) {
    const stay = pair(at + STAY, shape, FIRST, FIRST);
    stayNew = growth(was.fresh, stay.fresh, 0, floor);
    stayOld = growth(was.old, stay.old, 0, floor);
  }
  let [longNew, longOld] = [renewNew, renewOld];
  if (at + wait + LONG <= end) {
    const past = pair(at - APART - LONG, longShape, FIRST, FIRST);
    const now = pair(at + wait, longShape, FIRST, FIRST);
    longNew = growth(past.fresh, now.fresh, 0, floor);
    longOld = growth(past.old, now.old, 0, floor);
  }
  const sooner = partials(x, then - STEP, before, FOLLOWED, shape);
  return [
    renewNew,
    growth(was.fresh, is.fresh, FIRST, floor),
    renewOld,
    stayNew,
    stayOld,
    longNew,
    longOld,
    ...followed(sooner, was.old, is.old, before, wait, floor),
    ...times,
  ];
}

const size = (of: Partials, h: number): number => Math.hypot(of[2 * h]!, of[2 * h + 1]!);
function greatest(of: Partials): number {
  let top = 0;
  for (let h = 0; 2 * h < of.length; h++) top = Math.max(top, size(of, h));
  return top;
}

/** Median growth of four partials from number `from` on. */
function growth(was: Partials, is: Partials, from: number, floor: number): number {
  const rises: number[] = [];
  for (let h = from; h < from + FIRST; h++)
    rises.push(2 * Math.log10((size(is, h) + floor) / (size(was, h) + floor)));
  return median(rises);
}

/** @returns `carried`, `slipped` and `novel`: see {@link GOING_ON} */
function followed(
  first: Partials,
  was: Partials,
  is: Partials,
  index: number,
  wait: number,
  floor: number,
): [number, number, number] {
  const far = LENGTH + APART + wait;
  const misses: { readonly turn: number; readonly miss: number; readonly b: number }[] = [];
  let kept = 0;
  let all = floor;
  let left = 0;
  let old = 0;
  for (let h = 0; h < FOLLOWED; h++) {
    const a = size(was, h);
    const b = size(is, h);
    const turn = 2 * Math.PI * (h + 1) * cyclesPerSample(index);
    const angle = (of: Partials): number => Math.atan2(of[2 * h + 1]!, of[2 * h]!);
    const off = wrapped(angle(was) - angle(first) - turn * STEP) / STEP;
    const miss = wrapped(angle(is) - angle(was) - (turn + off) * far);
    misses.push({ turn: turn + off, miss, b });
    kept += b * Math.cos(miss);
    all += b;
    const goesOn = Math.min(a, Math.max(0, b * Math.cos(miss)));
    left += b * b + goesOn * goesOn - 2 * b * goesOn * Math.cos(miss);
    old += a * a;
  }
  let slipped = kept;
  for (let lost = LOST_STEP; lost <= LOST; lost += LOST_STEP) {
    let sum = 0;
    for (const { turn, miss, b } of misses) sum += b * Math.cos(miss - turn * lost);
    slipped = Math.max(slipped, sum);
  }
  return [kept / all, slipped / all, Math.log10((left + floor * floor) / (old + floor * floor))];
}

const wrapped = (angle: number): number => angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));
const cyclesPerSample = (index: number): number =>
  (440 * 2 ** ((LOWEST + index - 69) / 12)) / (WORK_RATE / 2);

/**
 * A pitch's partials under a window, turned by the same angle whatever the window's place; 0 over 10 kHz and before the
 * take.
 */
function partials(
  x: Float32Array,
  start: number,
  index: number,
  most: number,
  taper: Float64Array,
): Partials {
  const out = new Float64Array(2 * most);
  const length = taper.length;
  const f0 = cyclesPerSample(index);
  const { count, last, before } = harmonics(x, start, taper, f0, most);
  for (let h = 1; h <= count; h++) {
    const angle = 2 * Math.PI * h * f0;
    const [a, b] = [last[h - 1]!, before[h - 1]!];
    out[2 * h - 2] = (a - b * Math.cos(angle)) / length;
    out[2 * h - 1] = (b * Math.sin(angle)) / length;
  }
  return out;
}
