import { strongestPeaks } from './strumSpectrum.ts';

/** The instrument's tuning as the strum shows it. */
export interface StrumTuning {
  /** −50…+50. */
  readonly cents: number;
  /** 0…1: how well the peaks agree. */
  readonly confidence: number;
}

/** Peaks that are asked; partials over 1.6 kHz are stretched by stiffness and lie off the scale by nature. */
const PEAKS = 24;
const TOP_HZ = 1600;
/** Weaker peaks than this under the strongest are window lobes and noise. */
const WITHIN_DB = 40;

/**
 * Circular mean of the strongest peaks' distances from equal temperament, weighted by P^¼ so that one loud string does not
 * speak for all. @returns confidence 0 where there is no peak
 */
export function tuningOf(db: Float64Array): StrumTuning {
  const peaks = strongestPeaks(db, TOP_HZ, PEAKS);
  let re = 0;
  let im = 0;
  let sum = 0;
  for (const peak of peaks) {
    if (peak.db < peaks[0]!.db - WITHIN_DB) break;
    const weight = 10 ** (peak.db / 40);
    const angle = 2 * Math.PI * 12 * Math.log2(peak.hz / 440);
    re += weight * Math.cos(angle);
    im += weight * Math.sin(angle);
    sum += weight;
  }
  if (!(sum > 0)) return { cents: 0, confidence: 0 };
  return { cents: (100 * Math.atan2(im, re)) / (2 * Math.PI), confidence: Math.hypot(re, im) / sum };
}
