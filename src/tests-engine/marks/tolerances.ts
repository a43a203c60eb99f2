/** How far off in time a note may be, as functions of tempo and level. */

/** Floor of full credit: 30 ms, five times the 6 ms that can be heard at best (Friberg & Sundberg 1995). */
export const FLOOR_SEC = 0.03;
/** Cap of full credit: 60 ms. Common practice, no source; mir_eval's transcription metric takes 50. */
export const CAP_SEC = 0.06;
/** What the ear leaves unknown of every onset. */
export const EAR_SEC = 0.01;
/** People tap ahead of a beat by some tens of ms (Repp 2005, "negative mean asynchrony"): this much is free. */
export const FREE_LEAD_SEC = 0.03;
/** Unmeasured latency: round trips seen were 81...125 ms; twice that bounds what may be taken out. */
export const UNKNOWN_LATENCY_SEC = 0.25;
/** Of the latency's half-width, what widens each note's own limit as well: the take's centre is known no better. */
const LATENCY_WIDENING_SEC = 0.01;
/** From full credit to none: 200 ms, so that 1 ms on every note at once costs half a mark. */
const RAMP_SEC = 0.2;
/** A swung off-beat's limit: covers straight to swung at moderate tempi. */
const SWING_FACTOR = 1.5;

/** Half-width of full credit, seconds, for a shortest written value of `shortestSec`. */
export function fullCreditSec(shortestSec: number, latencySec: number, swung: boolean): number {
  const written = Math.max(FLOOR_SEC, Math.min(CAP_SEC, shortestSec / 4));
  return written * (swung ? SWING_FACTOR : 1) + EAR_SEC + Math.min(latencySec, LATENCY_WIDENING_SEC);
}

/** Width of the ramp from full credit to none. Beginners get more of it: common practice, no source. */
export function rampSec(level: number | undefined): number {
  if (level === undefined || level > 4) return RAMP_SEC;
  return level <= 2 ? RAMP_SEC * 1.5 : RAMP_SEC * 1.25;
}

/** Shortest distance between neighbouring onsets; infinity for a single note. */
export function shortestValueSec(onsets: ArrayLike<number>): number {
  let shortest = Infinity;
  for (let k = 1; k < onsets.length; k++) {
    const gap = onsets[k]! - onsets[k - 1]!;
    if (gap > 0 && gap < shortest) shortest = gap;
  }
  return shortest;
}

/**
 * Points for each second between a note and another whose pitch it takes: as many as notes are written, so that a
 * millisecond costs less than a mark even where nine of them take the pitch of one. At most so many that a wrong pitch
 * (0.75) is reached over 30 ms: which of two notes came first is heard from some 20 ms on (Hirsh 1959).
 */
const BORROW_LEAST = 5;
const BORROW_MOST = 25;
export const borrowPerSec = (written: number): number =>
  Math.min(BORROW_MOST, Math.max(BORROW_LEAST, written));
