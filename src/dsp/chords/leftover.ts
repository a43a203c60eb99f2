import { upperMedian } from '../../music/numbers.ts';
import { partialLevels } from './partials.ts';
import { STEP_HZ } from './strumSpectrum.ts';
import type { FittedShape } from './fitShape.ts';
import type { HeardStrum } from './heardStrum.ts';

/**
 * A note that was not asked for has to stand so far over what the backing, now taken out, had at the same places: rooms leave
 * −6…−20 dB of it (see `bleed`).
 */
const OVER_BACKING_DB = -4;
/** Partials looked at, and a peak's reach around each, Hz. */
const LOOKED_AT = 4;
const REACH_HZ = 6;
/** What such a note's log-odds are held to: neither a claim nor a yes that nothing foreign sounds. */
const UNDECIDED = -1;

/** Scores in which notes not asked for that may be left of the backing are undecided. */
export function excuseBacking(strum: HeardStrum, fit: FittedShape, scores: Float64Array): Float64Array {
  const { bleedDb, prepared } = strum;
  if (!bleedDb) return scores;
  return scores.map((z, i) => {
    const midi = fit.from + i;
    if (z <= UNDECIDED || fit.asked.includes(midi)) return z;
    const { count, hz, db } = partialLevels(prepared.spectrum, midi, prepared.tuning.cents);
    const over: number[] = [];
    for (let n = 0; n < Math.min(LOOKED_AT, count); n++) {
      let top = -200;
      for (let k = Math.ceil((hz[n]! - REACH_HZ) / STEP_HZ); k * STEP_HZ <= hz[n]! + REACH_HZ; k++)
        top = Math.max(top, bleedDb[k] ?? -200);
      over.push(db[n]! - top);
    }
    return upperMedian(over) < OVER_BACKING_DB ? UNDECIDED : z;
  });
}
