import { LOWEST } from '../pitch/salience.ts';
import { ms, WORK_RATE } from '../signal/prepared.ts';
import type { Prepared } from '../signal/prepared.ts';

/**
 * A pluck renews its string's partials, a knock does not: how they stand 30–78 ms after an attack, when the noise of a
 * hand on the body has mostly died away and the next pluck has seldom come, against the 48 ms before it. Decibels over
 * ten: median of the first four (`lateNew`) and of the fifth to eighth (`lateHigh`) of the pitch heard after the attack,
 * and of the first four of the one heard before (`lateOld`). `stayNew` and `stayOld` are the first four of each 62–110 ms
 * after it, when a drum's head has died away as well. Where the take ends before, 0.
 *
 * What rang before a knock goes on in step: each of its first six partials is followed through the attack at the
 * frequency it had before. `carried` is the cosine of the angle by which it misses, weighed by amplitude (1 goes on,
 * about 0 begins anew), `novel` the power that its continuation does not explain, over its power before, decibels over
 * ten. `height` is the pitch heard after, octaves over the lowest: under E2 these windows hold few periods.
 */
export const RENEWAL = [
  'lateNew',
  'lateHigh',
  'lateOld',
  'stayNew',
  'stayOld',
  'carried',
  'novel',
  'height',
] as const;

const FIRST = 4;
const FOLLOWED = 6;
const ALL = 8;
/** Partials this far under the strongest count as that strong: −40 dB. */
const FLOOR = 0.01;
/** At half the working rate. */
const half = (time: number): number => Math.round(ms(time) / 2);
const LENGTH = half(48);
const LATE = half(30);
const STAY = half(62);
/** From the end of the window before the attack to the attack. */
const APART = half(4);
/** Two windows so far apart tell a partial's frequency to ±33 Hz: a fundamental half a semitone off up to C5, a sixth to E2. */
const STEP = half(15);
const shape = Float64Array.from(
  { length: LENGTH },
  (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / LENGTH),
);

/** Partials of a pitch under the window: real and imaginary parts in turn. */
type Partials = Float64Array;

/** @param t attack @param before @param after indices of the pitches heard before and after. @returns as {@link RENEWAL} */
export function renewal({ half: x }: Prepared, t: number, before: number, after: number): number[] {
  const at = Math.round(t / 2);
  const then = at - APART - LENGTH;
  const height = after / 12;
  if (at + LATE + LENGTH > x.length) return [0, 0, 0, 0, 0, 0, 0, height];
  const was = partials(x, then, after, ALL);
  const late = partials(x, at + LATE, after, ALL);
  const wasOld = before === after ? was : partials(x, then, before, FOLLOWED);
  const lateOld = before === after ? late : partials(x, at + LATE, before, FOLLOWED);
  const floor = FLOOR * Math.max(greatest(late), greatest(lateOld)) + 1e-6;
  const follow = followed(partials(x, then - STEP, before, FOLLOWED), wasOld, lateOld, before, floor);
  let stay = [growth(was, late, 0, floor), growth(wasOld, lateOld, 0, floor)];
  if (at + STAY + LENGTH <= x.length) {
    const stayNew = partials(x, at + STAY, after, FIRST);
    const stayOld = before === after ? stayNew : partials(x, at + STAY, before, FIRST);
    stay = [growth(was, stayNew, 0, floor), growth(wasOld, stayOld, 0, floor)];
  }
  return [
    growth(was, late, 0, floor),
    growth(was, late, FIRST, floor),
    growth(wasOld, lateOld, 0, floor),
    ...stay,
    ...follow,
    height,
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
  rises.sort((a, b) => a - b);
  return (rises[1]! + rises[2]!) / 2;
}

/** @returns `carried` and `novel`: see {@link RENEWAL} */
function followed(
  first: Partials,
  was: Partials,
  is: Partials,
  index: number,
  floor: number,
): [number, number] {
  const far = LENGTH + APART + LATE;
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
    kept += b * Math.cos(miss);
    all += b;
    const goesOn = Math.min(a, Math.max(0, b * Math.cos(miss)));
    left += b * b + goesOn * goesOn - 2 * b * goesOn * Math.cos(miss);
    old += a * a;
  }
  return [kept / all, Math.log10((left + floor * floor) / (old + floor * floor))];
}

const wrapped = (angle: number): number => angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));
const cyclesPerSample = (index: number): number =>
  (440 * 2 ** ((LOWEST + index - 69) / 12)) / (WORK_RATE / 2);

/**
 * A pitch's partials under a Hann window (Goertzel, American Mathematical Monthly 65, 1958), turned by the same angle
 * whatever the window's place; 0 over 10 kHz and before the take.
 */
function partials(x: Float32Array, start: number, index: number, count: number): Partials {
  const out = new Float64Array(2 * count);
  const f0 = cyclesPerSample(index);
  const from = Math.max(0, -start);
  // Two at a time, which do not wait for one another.
  for (let h = 1; h <= count && h * f0 < 0.45; h += 2) {
    const angle = 2 * Math.PI * h * f0;
    const second = angle + 2 * Math.PI * f0;
    const turnA = 2 * Math.cos(angle);
    const turnB = 2 * Math.cos(second);
    let a = 0;
    let wasA = 0;
    let b = 0;
    let wasB = 0;
    for (let i = from; i < LENGTH; i++) {
      const now = x[start + i]! * shape[i]!;
      const nextA = now + turnA * a - wasA;
      const nextB = now + turnB * b - wasB;
      wasA = a;
      a = nextA;
      wasB = b;
      b = nextB;
    }
    out[2 * h - 2] = (a - wasA * Math.cos(angle)) / LENGTH;
    out[2 * h - 1] = (wasA * Math.sin(angle)) / LENGTH;
    if (h === count || (h + 1) * f0 >= 0.45) break;
    out[2 * h] = (b - wasB * Math.cos(second)) / LENGTH;
    out[2 * h + 1] = (wasB * Math.sin(second)) / LENGTH;
  }
  return out;
}
