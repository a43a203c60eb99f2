import type { Metre } from '../../../music/score.ts';
import { TICKS_PER_QUARTER } from '../../../music/units.ts';
import { swungTicks } from '../../../music/time.ts';
import { beatsOf, type Grid } from './grid.ts';

const QUAVER = TICKS_PER_QUARTER / 2;
/** Silence shorter than this is no rest: the ear's ends of notes are good to ±100 ms (notes.ts). */
const LEAST_REST_SEC = 0.1;

/** Where a note may end: each quaver of a beat, each third of a beat in triplets, and the last bar line. */
function endings(metre: Metre, bars: number, grids: readonly Grid[]): number[] {
  const beats = beatsOf(metre, bars);
  const all = beats.flatMap(({ start, length }, i) => {
    const unit = grids[i]!.triplet ? grids[i]!.unit : QUAVER;
    return Array.from({ length: Math.round(length / unit) }, (_, k) => start + k * unit);
  });
  const last = beats[beats.length - 1]!;
  return [...all, last.start + last.length];
}

/**
 * Written lengths: to the next note, or to the quaver (in triplets the third) nearest to the heard end where
 * the silence after it is long enough to be a rest.
 * @param starts on the grid, rising, no two alike. @param ends heard, ticks. @returns ticks, > 0.
 */
export function readLengths(
  starts: readonly number[],
  ends: readonly number[],
  metre: Metre,
  bars: number,
  grids: readonly Grid[],
  swing: number,
  tickSec: number,
): number[] {
  const stops = endings(metre, bars, grids);
  const phraseEnd = stops[stops.length - 1]!;
  return starts.map((start, i) => {
    const limit = starts[i + 1] ?? phraseEnd;
    const heard = ends[i]!;
    let best = limit;
    for (const stop of stops) {
      if (stop <= start || stop >= limit || (limit - stop) * tickSec < LEAST_REST_SEC) continue;
      if (Math.abs(swungTicks(stop, swing) - heard) < Math.abs(swungTicks(best, swing) - heard)) best = stop;
    }
    return best - start;
  });
}
