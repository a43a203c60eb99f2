import { levelBetween, ms } from '../signal/prepared.ts';
import type { Prepared } from '../signal/prepared.ts';

/** A note is over when its level has fallen so far under its peak, dB. */
const FALL_DB = 26;
const WINDOW = ms(40);
const STEP = ms(5);

/** End of a note that begins at `at`: 26 dB under its peak (40 ms mean) or `until`, in samples. */
export function noteEnd(take: Prepared, at: number, until: number): number {
  let peak = -Infinity;
  for (let t = at; t < Math.min(until, at + ms(250)); t += STEP)
    peak = Math.max(peak, levelBetween(take.energy, t, Math.min(until, t + WINDOW)));
  for (let t = at + ms(20); t + WINDOW < until; t += STEP)
    if (levelBetween(take.energy, t, t + WINDOW) < peak - FALL_DB) return t + WINDOW / 2;
  return until;
}
