import { analyse, type Analysis } from '../hear/analysis.ts';
import { toWorkRate } from '../hear/toWorkRate.ts';
import { pitchFrames } from '../pitch/salience.ts';
import { prepare } from '../signal/prepared.ts';
import type { Cancelled } from './cancel.ts';
import { expectLeftovers } from './expected.ts';
import { maskLeftovers } from './mask.ts';
import { overFeatures } from './overFeatures.ts';

/** A take whose backing was taken out, measured: onsets on what is left, pitch under the mask. */
export interface OverAnalysis {
  /** Candidates, each with the features of a decision over a backing. */
  readonly possible: Analysis['possible'];
  /** The masked take, for naming notes. */
  readonly masked: Analysis;
  /** Expected leftovers over what is left, dB: −3 and above means that nothing but leftovers is heard. */
  readonly leftoverDb: number;
}

export function analyseOver(cancelled: Cancelled): OverAnalysis {
  const { left, bleed, rate } = cancelled;
  const expected = expectLeftovers(left, bleed);
  const { possible } = analyse(toWorkRate(Float32Array.from(left), rate));
  const measure = overFeatures(expected);
  const take = prepare(toWorkRate(Float32Array.from(maskLeftovers(left, expected)), rate));
  const sum = (x: Float32Array): number => x.reduce((s, v) => s + v, 0);
  return {
    possible: possible.map((p) => ({ ...p, features: measure(p) })),
    masked: { take, pitch: pitchFrames(take.half), possible: [] },
    leftoverDb: 10 * Math.log10((sum(expected.leftover.power) + 1e-20) / (sum(expected.left.power) + 1e-20)),
  };
}
