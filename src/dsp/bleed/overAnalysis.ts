import { createContinuity } from '../decision/continuity.ts';
import type { Analysis } from '../hear/analysis.ts';
import { toWorkRate } from '../hear/toWorkRate.ts';
import { pitchFrames } from '../pitch/salience.ts';
import { HOP, prepare, type Prepared } from '../signal/prepared.ts';
import { awareFlux, backingFlux } from './awareFlux.ts';
import type { Cancelled } from './cancel.ts';
import { throughClearBands } from './clearBands.ts';
import { expectLeftovers } from './expected.ts';
import { maskLeftovers } from './mask.ts';
import { overCandidates } from './overCandidates.ts';
import { overFeatures } from './overFeatures.ts';

/** A take whose backing was taken out, measured: onsets on what is left (their instants in its clear bands), pitch under the mask. */
export interface OverAnalysis {
  /** Candidates, each with the features of a decision over a backing; in order of time. */
  readonly possible: Analysis['possible'];
  /** The masked take, for naming notes. */
  readonly masked: Analysis;
  /** What is left in the bands in which the player outweighs the leftovers, for placing notes. */
  readonly clear: Prepared;
  /** Expected leftovers over what is left, dB: −3 and above means that nothing but leftovers is heard. */
  readonly leftoverDb: number;
}

export function analyseOver(cancelled: Cancelled): OverAnalysis {
  const { left, bleed, rate } = cancelled;
  const expected = expectLeftovers(left, bleed);
  const flux = awareFlux(expected);
  const clear = prepare(toWorkRate(Float32Array.from(throughClearBands(left, expected)), rate));
  const masked = prepare(toWorkRate(Float32Array.from(maskLeftovers(left, expected)), rate));
  const pitch = pitchFrames(masked.half);
  const measure = overFeatures({
    expected,
    flux,
    backing: backingFlux(expected),
    clear,
    masked,
    pitch,
    continuity: createContinuity(masked),
  });
  const sum = (x: Float32Array): number => x.reduce((s, v) => s + v, 0);
  return {
    possible: overCandidates(flux.all, clear).map((p) => ({
      candidate: {
        frame: Math.round(p.attack.at / HOP),
        strength: flux.all[p.frame]!,
        flux: flux.all[p.frame]!,
      },
      attack: p.attack,
      features: measure(p),
    })),
    masked: { take: masked, pitch, possible: [] },
    clear,
    leftoverDb: 10 * Math.log10((sum(expected.leftover.power) + 1e-20) / (sum(expected.left.power) + 1e-20)),
  };
}
