import { peakOffset } from '../../music/numbers.ts';
import { convolve } from './convolve.ts';
import { inverseFilter, predictor } from '../signal/predictor.ts';
import { learnRoom } from './room.ts';
import { segmentLags, type Lag } from './segmentLags.ts';
import { comparedStretches, isLong, learntStretch, type Stretch } from './stretch.ts';
import { fitTimeMap, lagAt, theilSen, type TimeMap } from './timeMap.ts';
import { warp } from './warp.ts';

/** Everything in `dsp/bleed` works at this rate: 24 kHz keeps the guitar's band and halves the cost. */
export const BLEED_RATE = 24_000;
/** The room's response starts this long before the direct sound: a loudspeaker's filter rings both ways. */
const LEAD = Math.round(0.004 * BLEED_RATE);
/** Length of the room's response. 0.3 s holds −22 dB of an RT60 of 0.8 s, −45 dB of 0.4 s. */
export const ROOM_TAPS = Math.round(0.3 * BLEED_RATE);
/** Order of the whitener: 16 at 24 kHz follows a loudspeaker's tilt without following notes. */
const WHITEN_ORDER = 16;
/** The direct sound and the first 0.1 s are enough to see a clock drift, at a third of the cost. */
const DRIFT_TAPS = Math.round(0.1 * BLEED_RATE);

/** GCC peaks over chance: by simulation on unrelated music 4.5 was the highest of 200. */
export const LEAST_SURENESS = 6;

export interface Aligned {
  readonly map: TimeMap;
  /** Reference as it would have been recorded by a perfect microphone at the loudspeaker, less the lead. */
  readonly sent: Float64Array;
  readonly lags: readonly Lag[];
}

/** What was sent over samples `from` … `to` of a recording, in the recording's time. */
export const applyMap = (reference: Float64Array, map: TimeMap, to: number, from = 0): Float64Array =>
  warp(reference, to - from, (n) => n + from - lagAt(map, n + from) + LEAD);

/** Samples `from` … `to` of a signal, whitened by the filter `a`. */
function whitened(signal: Float64Array, a: Float64Array, { from, to }: Stretch): Float64Array {
  const lead = Math.min(from, a.length - 1);
  return inverseFilter(signal.subarray(from - lead, to), a).subarray(lead);
}

/** Delay, drift and jumps between a recording and what was sent; null where no backing is heard. */
export function coarseMap(
  heard: Float64Array,
  reference: Float64Array,
): { map: TimeMap; lags: Lag[] } | null {
  const lags = segmentLags(heard, reference, {
    rate: BLEED_RATE,
    fromSec: -0.02,
    toSec: 0.35,
    // Of a piece in shorter stretches, further apart: each fits a transform of half the size.
    ...(isLong(heard.length, BLEED_RATE)
      ? { stretchSec: 0.99, stepSec: 1.4 }
      : { stretchSec: 1.4, stepSec: 0.7 }),
    spreadSec: 0.006,
    // A microphone whose buffer is filled anew between the hearing and the take: ten milliseconds and more at once.
    farSureness: 2 * LEAST_SURENESS,
  });
  const map = fitTimeMap(lags, LEAST_SURENESS);
  return map ? { map, lags } : null;
}

/**
 * Lags, within ±1 ms, of 1 s windows, every half second, between `y`, a stretch of the recording, and `x`, its prediction;
 * both whitened.
 * @param start where the stretch begins in the recording
 */
function fineLags(y: Float64Array, x: Float64Array, start: number): Lag[] {
  const window = BLEED_RATE;
  const most = Math.round(0.001 * BLEED_RATE);
  const lags: Lag[] = [];
  for (let from = 0; from + window <= y.length; from += window / 2) {
    let xx = 0;
    let yy = 0;
    for (let n = from; n < from + window; n++) {
      xx += x[n]! * x[n]!;
      yy += y[n]! * y[n]!;
    }
    if (!(xx > 0 && yy > 0)) continue;
    const c = new Float64Array(2 * most + 1);
    for (let k = -most; k <= most; k++) {
      let sum = 0;
      const last = Math.min(from + window, y.length - k);
      for (let n = Math.max(from, -k); n < last; n++) sum += x[n]! * y[n + k]!;
      c[k + most] = sum;
    }
    let best = 1;
    for (let k = 1; k < 2 * most; k++) if (c[k]! > c[best]!) best = k;
    const lag = best - most + peakOffset(c[best - 1]!, c[best]!, c[best + 1]!);
    lags.push({ at: start + from + window / 2, lag, sureness: c[best]! / Math.sqrt(xx * yy) });
  }
  return lags;
}

/** Corrections smaller than these (0.8 µs; 0.3 ppm) change nothing that can be heard or measured. */
const SETTLED = { delay: 0.02, drift: 0.3e-6 };

/**
 * The time map, refined up to twice against the room that it lets us learn (cross-correlation of recording
 * and prediction in 1 s windows, Theil–Sen line), and the room of the last map.
 * @param until samples of the recording to learn from: before the take.
 */
export function refineMap(
  heard: Float64Array,
  reference: Float64Array,
  coarse: TimeMap,
  until: number,
): { map: TimeMap; room: Float64Array } {
  const learnt = learntStretch(reference, BLEED_RATE, until);
  const compared = comparedStretches(until, BLEED_RATE);
  const a = predictor(heard.subarray(learnt.from, learnt.to), WHITEN_ORDER);
  const y = whitened(heard, a, learnt);
  let map = coarse;
  const sent = (over: Stretch): Float64Array => {
    const lead = Math.min(over.from, WHITEN_ORDER);
    return inverseFilter(applyMap(reference, map, over.to, over.from - lead), a).subarray(lead);
  };
  for (let pass = 0; pass < 2; pass++) {
    const x = sent(learnt);
    const room = learnRoom(y, x, DRIFT_TAPS);
    const lags = compared.flatMap((over) => {
      if (over.from === learnt.from && over.to === learnt.to)
        return fineLags(y, convolve(x, room), over.from);
      const lead = Math.min(over.from, DRIFT_TAPS);
      const predicted = convolve(sent({ from: over.from - lead, to: over.to }), room).subarray(lead);
      return fineLags(whitened(heard, a, over), predicted, over.from);
    });
    // A third of the best window's correlation: the others hold noodling or silence.
    const best = Math.max(0, ...lags.map((l) => l.sureness));
    const sure = lags.filter((l) => l.sureness > best / 3 && l.sureness > 0.1);
    if (sure.length < 3) break;
    const line = theilSen(sure);
    map = { ...map, delay: map.delay + line.intercept, drift: map.drift + line.slope };
    if (Math.abs(line.intercept) < SETTLED.delay && Math.abs(line.slope) < SETTLED.drift) break;
  }
  return { map, room: learnRoom(y, sent(learnt), ROOM_TAPS) };
}
