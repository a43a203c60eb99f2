import { HIGHEST, LOWEST, PARTIALS, STIFFNESS, TOP_HZ } from './constants.ts';
import { peakAt, STEP_HZ } from './strumSpectrum.ts';
import type { StrumSpectrum } from './strumSpectrum.ts';

/** A note's partial n, Hz, with the instrument's tuning in cents. */
export const partialHz = (midi: number, n: number, tuningCents: number): number =>
  n * 440 * 2 ** ((midi - 69 + tuningCents / 100) / 12) * Math.sqrt(1 + STIFFNESS * n * n);

/** How many partials of a note lie under {@link TOP_HZ}, at most {@link PARTIALS}. */
export const partialCount: readonly number[] = Array.from({ length: HIGHEST - LOWEST + 1 }, (_, i) => {
  let n = 0;
  while (n < PARTIALS && partialHz(LOWEST + i, n + 1, 0) <= TOP_HZ) n++;
  return n;
});

/** Levels and deviations of a note's partials, {@link PARTIALS} long; entries beyond `count` mean nothing. */
export interface PartialLevels {
  readonly count: number;
  readonly hz: Float64Array;
  readonly db: Float64Array;
  readonly floorDb: Float64Array;
  /** Peak against expected place, cents; the search's edge where there is no peak. */
  readonly cents: Float64Array;
}

/** Searched on either side: a string a third of a semitone off, or the spectrum's own step at the bottom. */
const REACH_CENTS = 35;
const REACH_HZ = 1.3;
/** Where nothing stands out the level is that of the middle, and somewhat less: it is somebody else's flank. */
const NO_PEAK_DB = 3;

/** Measures the partials of note `midi`. */
export function partialLevels(spectrum: StrumSpectrum, midi: number, tuningCents: number): PartialLevels {
  const count = partialCount[midi - LOWEST]!;
  const { db, floorDb: floor } = spectrum;
  const out = {
    count,
    hz: new Float64Array(PARTIALS),
    db: new Float64Array(PARTIALS),
    floorDb: new Float64Array(PARTIALS),
    cents: new Float64Array(PARTIALS),
  };
  for (let i = 0; i < count; i++) {
    const hz = partialHz(midi, i + 1, tuningCents);
    const reach = Math.max(hz * (2 ** (REACH_CENTS / 1200) - 1), REACH_HZ);
    const middle = Math.round(hz / STEP_HZ);
    const from = Math.max(1, Math.ceil((hz - reach) / STEP_HZ));
    const to = Math.min(db.length - 2, Math.floor((hz + reach) / STEP_HZ));
    let best = -1;
    for (let k = from; k <= to; k++)
      if (db[k]! > db[k - 1]! && db[k]! >= db[k + 1]! && (best < 0 || db[k]! > db[best]!)) best = k;
    out.hz[i] = hz;
    out.floorDb[i] = floor[middle]!;
    if (best < 0) {
      out.db[i] = db[middle]! - NO_PEAK_DB;
      out.cents[i] = REACH_CENTS;
    } else {
      const peak = peakAt(db, best);
      out.db[i] = peak.db;
      out.cents[i] = 1200 * Math.log2(peak.hz / hz);
    }
  }
  return out;
}
