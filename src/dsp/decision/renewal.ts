import { median } from '../../music/numbers.ts';
import { LOWEST } from '../pitch/salience.ts';
import { harmonics } from '../signal/goertzel.ts';
import { ms, WORK_RATE } from '../signal/prepared.ts';
import type { Prepared } from '../signal/prepared.ts';

/**
 * A pluck renews its string's partials, a knock does not: how they stand 30–78 ms after an attack, when the noise of a
 * hand on the body has mostly died away and the next pluck has seldom come, against the 48 ms before it. Decibels over
 * ten: median of the first four (`lateNew`) and of the fifth to eighth (`lateHigh`) of the pitch heard after the attack,
 * and of the first four of the one heard before (`lateOld`). 0 where the take ends before.
 */
export const RENEWAL = ['lateNew', 'lateHigh', 'lateOld'] as const;

const FIRST = 4;
const ALL = 8;
/** Partials this far under the strongest count as that strong: −40 dB. */
const FLOOR = 0.01;
/** At half the working rate. */
const half = (time: number): number => Math.round(ms(time) / 2);
const LENGTH = half(48);
const shape = Float64Array.from(
  { length: LENGTH },
  (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / LENGTH),
);

/** @param t attack @param before @param after indices of the pitches heard before and after. @returns as {@link RENEWAL} */
export function renewal({ half: x }: Prepared, t: number, before: number, after: number): number[] {
  const then = Math.round(t / 2) - half(4) - LENGTH;
  const late = Math.round(t / 2) + half(30);
  if (late + LENGTH > x.length) return [0, 0, 0];
  const pair = (index: number, count: number): { was: Float64Array; is: Float64Array } => ({
    was: partials(x, then, index, count),
    is: partials(x, late, index, count),
  });
  const fresh = pair(after, ALL);
  const old = before === after ? fresh : pair(before, FIRST);
  const floor = FLOOR * Math.max(...fresh.is, ...old.is) + 1e-6;
  const growth = ({ was, is }: typeof old, from: number, to: number): number => {
    const rises: number[] = [];
    for (let h = from; h < to; h++) rises.push(2 * Math.log10((is[h]! + floor) / (was[h]! + floor)));
    return median(rises);
  };
  return [growth(fresh, 0, FIRST), growth(fresh, FIRST, ALL), growth(old, 0, FIRST)];
}

/** Magnitudes of a pitch's partials under a Hann window; 0 over 10 kHz. */
function partials(x: Float32Array, start: number, index: number, most: number): Float64Array {
  const out = new Float64Array(most);
  const f0 = (440 * 2 ** ((LOWEST + index - 69) / 12)) / (WORK_RATE / 2);
  const { count, last, before, turns } = harmonics(x, start, shape, f0, most);
  for (let h = 0; h < count; h++) {
    const [a, b] = [last[h]!, before[h]!];
    out[h] = Math.sqrt(Math.max(0, a * a + b * b - turns[h]! * a * b)) / LENGTH;
  }
  return out;
}
