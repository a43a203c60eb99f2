import { createContinuity } from '../decision/continuity.ts';
import type { Analysis } from '../hear/analysis.ts';
import { toWorkRate } from '../hear/toWorkRate.ts';
import { pitchFrames } from '../pitch/salience.ts';
import { HOP, prepare, type Prepared } from '../signal/prepared.ts';
import { singles } from '../signal/workspace.ts';
import { sumOf } from './arithmetic.ts';
import { fluxes, type Fluxes } from './awareFlux.ts';
import type { Cancelled } from './cancel.ts';
import { clearBands, throughClearBands } from './clearBands.ts';
import { expectLeftovers } from './expected.ts';
import { maskLeftovers } from './mask.ts';
import { overCandidates } from './overCandidates.ts';
import { loudDb, overFeatures } from './overFeatures.ts';

/** What is the same over a whole take, however long: measured on one stretch of it, and kept for the others. */
export interface OverScales {
  /** The filter of {@link clearBands}. */
  readonly response: Float64Array;
  /** Factors by which what passes that filter, and what passes the mask, are scaled. */
  readonly clearGain: number;
  readonly maskedGain: number;
  readonly tops: Fluxes['tops'];
  readonly loudDb: number;
}

/** A take whose backing was taken out, measured: onsets on what is left (their instants in its clear bands), pitch under the mask. */
export interface OverAnalysis {
  /** Candidates, each with the features of a decision over a backing; in order of time. */
  readonly possible: Analysis['possible'];
  /** The masked take, for naming notes. */
  readonly masked: Analysis;
  /** What is left in the bands in which the player outweighs the leftovers, for placing notes. */
  readonly clear: Prepared;
  /** Energy of the leftovers that are expected, and of what is left. */
  readonly leftoverEnergy: number;
  readonly leftEnergy: number;
  readonly scales: OverScales;
}

/** What is known beforehand of a stretch of a longer take. */
export interface OverKnown {
  /** What of the bleed is left, bin by bin. */
  readonly share?: Float64Array | undefined;
  readonly scales?: OverScales | undefined;
}

export function analyseOver(
  { left, bleed, rate }: Pick<Cancelled, 'left' | 'bleed' | 'rate'>,
  { share, scales }: OverKnown = {},
): OverAnalysis {
  const expected = expectLeftovers(left, bleed, share);
  const { aware: flux, backing, tops } = fluxes(expected, scales?.tops);
  const response = scales?.response ?? clearBands(expected);
  const clear = prepare(toWorkRate(singles(throughClearBands(left, response)), rate), scales?.clearGain);
  const masked = prepare(toWorkRate(singles(maskLeftovers(left, expected)), rate), scales?.maskedGain);
  const pitch = pitchFrames(masked.half);
  const loud = scales?.loudDb ?? loudDb(masked);
  const measure = overFeatures({
    expected,
    flux,
    backing,
    clear,
    masked,
    pitch,
    continuity: createContinuity(masked),
    loudDb: loud,
  });
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
    leftoverEnergy: sumOf(expected.leftover.power),
    leftEnergy: sumOf(expected.left.power),
    scales: { response, clearGain: clear.gain, maskedGain: masked.gain, tops, loudDb: loud },
  };
}

/** Expected leftovers over what is left, dB: −3 and above means that nothing but leftovers is heard. */
export const leftoverDb = ({
  leftoverEnergy,
  leftEnergy,
}: Pick<OverAnalysis, 'leftoverEnergy' | 'leftEnergy'>): number =>
  10 * Math.log10((leftoverEnergy + 1e-20) / (leftEnergy + 1e-20));
