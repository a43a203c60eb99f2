import type { BandRise } from '../frames/bandRise.ts';
import { soundingFrames } from '../frames/superFlux.ts';
import type { Prepared } from '../signal/prepared.ts';
import { percentile } from '../signal/percentile.ts';

/** A frame at which something may have been plucked. */
export interface Candidate {
  readonly frame: number;
  /** Combined strength, about 0…1.5. */
  readonly strength: number;
  /** SuperFlux over the take's own strong attacks, about 0…1.6. */
  readonly flux: number;
}

export interface Candidates {
  /** In order of time. */
  readonly found: readonly Candidate[];
  /** The combined strength of every frame. */
  readonly strength: Float32Array;
}

/** Frames on either side within which a candidate must be the greatest: 12 ms, so that a pluck stands beside its scrape. */
const RADIUS = 4;
/** Low on purpose, about four candidates for each pluck: the decision comes later. At 0.1 one re-pluck in eight is lost. */
const LOWEST = 0.03;

/** Local maxima of (flux + rise / 8 dB) / 2. */
export function findCandidates(flux: Float32Array, rise: BandRise, take: Prepared): Candidates {
  const scale = Math.max(0.1, 0.6 * percentile(soundingFrames(flux, take), 0.99));
  const count = flux.length;
  const strength = new Float32Array(count);
  for (let k = 0; k < count; k++) strength[k] = (flux[k]! / scale + rise.mean[k]! / 8) / 2;
  const found: Candidate[] = [];
  for (let k = 0; k < count; k++) {
    const value = strength[k]!;
    if (value < LOWEST) continue;
    let peak = true;
    for (let j = Math.max(0, k - RADIUS); j <= Math.min(count - 1, k + RADIUS) && peak; j++)
      if (strength[j]! > value || (strength[j] === value && j < k)) peak = false;
    if (peak) found.push({ frame: k, strength: value, flux: flux[k]! / scale });
  }
  return { found, strength };
}
