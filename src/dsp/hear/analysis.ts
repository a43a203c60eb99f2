import { createContinuity } from '../decision/continuity.ts';
import { features } from '../decision/features.ts';
import type { Loud } from '../decision/levels.ts';
import type { FeatureSources } from '../decision/features.ts';
import { growthPieces } from '../decision/partials.ts';
import { bandRise } from '../frames/bandRise.ts';
import type { BandRise } from '../frames/bandRise.ts';
import { superFlux } from '../frames/superFlux.ts';
import { findAttacks } from '../onsets/attack.ts';
import type { Attack } from '../onsets/attack.ts';
import { findCandidates } from '../onsets/candidates.ts';
import type { Candidate } from '../onsets/candidates.ts';
import { createSpectra } from '../pitch/comb.ts';
import { pitchFrames } from '../pitch/salience.ts';
import type { PitchFrames } from '../pitch/salience.ts';
import { percentile } from '../signal/percentile.ts';
import { HOP, levelBetween, ms, prepare, SOUNDING_BLOCK } from '../signal/prepared.ts';
import type { Prepared } from '../signal/prepared.ts';

/** A place where a string may have been plucked, with all that the decision looks at. */
export interface Possible {
  readonly candidate: Candidate;
  readonly attack: Attack;
  readonly features: Float64Array;
}

/** Everything that is measured over a take before anything is decided. */
export interface Analysis {
  readonly take: Prepared;
  readonly pitch: PitchFrames;
  /** In order of time. */
  readonly possible: readonly Possible[];
}

/** What is measured frame by frame: the costly part, which no fitted number changes. */
export interface Measured {
  readonly take: Prepared;
  readonly flux: Float32Array;
  readonly rise: BandRise;
  readonly pitch: PitchFrames;
}

/** @param input mono, at the working rate, finite */
export function measure(input: Float32Array): Measured {
  const take = prepare(input);
  return { take, flux: superFlux(take), rise: bandRise(take), pitch: pitchFrames(take.half) };
}

/** @param input mono, at the working rate, finite */
export const analyse = (input: Float32Array): Analysis => lookFor(measure(input));

/** Candidates, their attacks and what the decision looks at. */
export function lookFor({ take, flux, rise, pitch }: Measured): Analysis {
  const { found, strength } = findCandidates(flux, rise, take);
  const from: FeatureSources = {
    take,
    strength,
    rise,
    pitch,
    continuity: createContinuity(take),
    usualStrength: usualStrength(found),
    loud: loud(take),
  };
  const attacks = found.flatMap((candidate) =>
    findAttacks(take.edges, candidate.frame * HOP).map((attack) => ({ candidate, attack })),
  );
  const pieces = attacks.map(({ attack }) => growthPieces(attack.at));
  const possible: Possible[] = [];
  for (const spectra of createSpectra().of(take.samples, pieces)) {
    const { candidate, attack } = attacks[possible.length]!;
    possible.push({ candidate, attack, features: features(from, candidate, attack, spectra) });
  }
  possible.sort((a, b) => a.attack.at - b.attack.at);
  return { take, pitch, possible };
}

/** Candidates from here on are strong; where there is none, this. */
const STRONG = 0.25;

/** Median strength of the strong candidates. */
function usualStrength(found: readonly Candidate[]): number {
  const strong = found.flatMap(({ strength }) => (strength > STRONG ? [strength] : []));
  return strong.length > 0 ? percentile(strong, 0.5) : STRONG;
}

/** 98th percentiles of 50 ms levels, and of 10 ms levels of the differentiated signal, over the sounding part. */
function loud({ samples, energy, edges, sounding }: Prepared): Loud {
  const levels: number[] = [];
  const bright: number[] = [];
  for (let t = 0; t + ms(50) <= samples.length; t += ms(10)) {
    if (!sounding[Math.floor(t / SOUNDING_BLOCK)]) continue;
    levels.push(levelBetween(energy, t, t + ms(50)));
    bright.push(levelBetween(edges, t, t + ms(10)));
  }
  return { levelDb: percentile(levels, 0.98), edgesDb: percentile(bright, 0.98) };
}
