import { median } from '../../music/numbers.ts';
import type { MeasuredTrip } from './findProbe.ts';
import { LONGEST_TRIP_SEC } from './findProbe.ts';

/** An eager player may be this early, on top of a round trip of nothing. */
const EARLIEST_SEC = -0.1;
/** Notes of one player to a slow click lie this near their median, or something else was played. */
const TOGETHER_SEC = 0.07;
/**
 * Musicians play some 10 to 20 ms ahead of a click (Repp 2005, "negative mean asynchrony"). The same habit is in
 * the take, where it cancels; half of it is doubted.
 */
const HABIT_SEC = 0.01;
/** Student's t, two-sided 95 %, by number of notes. */
const T_95: Readonly<Record<number, number>> = { 3: 4.303, 4: 3.182, 5: 2.776, 6: 2.571, 7: 2.447, 8: 2.365 };
/** Past this a check says less than it costs: a fifth of a quaver pair at 120. */
const WIDEST_SEC = 0.05;

/**
 * The round trip from notes played with a click: the median of heard less sent, and a half-width of 95 % from
 * their spread plus what a player's habit leaves unknown.
 * @param clickSec when each click was sent, seconds, rising, 3…8 of them, at least 0.5 s apart
 * @param heardSec when notes were heard, same clock, any order; more than were asked for may be among them
 * @returns null where a click has no note, or the notes lie too far apart to say anything
 * @throws RangeError for another number of clicks
 */
export function tripFromNotes(clickSec: readonly number[], heardSec: readonly number[]): MeasuredTrip | null {
  const t = T_95[clickSec.length];
  if (t === undefined) throw new RangeError(`3 to 8 clicks are played with, got ${clickSec.length}`);
  let best: number[] | null = null;
  for (const first of heardSec) {
    const guess = first - clickSec[0]!;
    if (guess < EARLIEST_SEC || guess > LONGEST_TRIP_SEC) continue;
    const lags = clickSec.map((click) => nearest(heardSec, click + guess) - click);
    if (lags.every((lag) => Math.abs(lag - median(lags)) <= TOGETHER_SEC))
      if (!best || spread(lags) < spread(best)) best = lags;
  }
  if (!best) return null;
  const halfWidthSec = HABIT_SEC + (t * spread(best)) / Math.sqrt(best.length);
  return halfWidthSec > WIDEST_SEC ? null : { sec: median(best), halfWidthSec };
}

const nearest = (values: readonly number[], to: number): number =>
  values.reduce((best, value) => (Math.abs(value - to) < Math.abs(best - to) ? value : best), Infinity);

function spread(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1));
}
