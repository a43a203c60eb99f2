import type { PracticeTest } from '../../music/score.ts';
import { candidates } from './candidates.ts';
import type { Candidate } from './candidates.ts';
import { follower } from './follow.ts';
import { practiceGain, wanted } from './gain.ts';
import { presentLevel } from './knowledge.ts';
import type { Knowledge } from './knowledge.ts';
import type { ChoiceRequest } from './types.ts';
import { why } from './why.ts';
import type { Why } from './why.ts';

/**
 * The success aimed at: four tests of five end "there". Wilson, Shenhav, Straccia & Cohen 2019 ("The
 * eighty five percent rule for optimal learning") derive an error of 15.87 % for gradient descent on
 * two-way classification under Gaussian noise: another kind of learning, and another kind of success. Here
 * success is a whole test, whose single notes then come off 95 times of 100; 0.8 is common practice among
 * teachers of instruments ("if it works four times of five, go on"), no more is claimed for it. (Simulated
 * students learn more from harder tests: see README.md.)
 */
export const AIM = 0.8;
/** A tenth either side is as good: outcomes cannot tell 0.7 from 0.9 before some thirty tests. */
export const AIM_WIDTH = 0.1;
/** Within that, nearer is better: at the edge a test must bring 2.2 times as much (s.d. of a bell, 0.08). */
const AIM_SD = 0.08;

export interface Choice {
  readonly test: PracticeTest;
  /** Chance that it ends "there", 0…1. */
  readonly chance: number;
  readonly why: Why;
}

/**
 * The next test of a kind. Of the candidates whose chance lies within {@link AIM} ± {@link AIM_WIDTH} the one
 * that brings most of what is wanted, the nearer to the aim the better; where none lies there, the nearest.
 * Deterministic in its arguments, whatever the order of the record.
 * @throws RangeError where the level is none of 1…10
 */
export const chooseNext = (request: ChoiceRequest): Choice =>
  chooseFrom(follow(request.record, request.manner, request.there), request);
/** Only a shortcut: the same knowledge as a full replay gives. */
const follow = follower();

const miss = ({ chance }: { readonly chance: number }): number => Math.abs(chance - AIM);

/** Chances this near to each other cannot be told apart by any record. */
const ALIKE = 0.05;
/** Where all are too hard or too easy: of the nearest the easier level, or the harder. */
function nearest(all: readonly Candidate[]): Candidate {
  const least = Math.min(...all.map(miss));
  const near = all.filter((one) => miss(one) <= least + ALIKE);
  const up = near[0]!.chance > AIM;
  return near.reduce((a, b) => ((up ? b.level > a.level : b.level < a.level) ? b : a));
}

/** The same from what is known already: `known` of this `manner` and `there`, unchanged by it. */
export function chooseFrom(known: Knowledge, request: Omit<ChoiceRequest, 'record'>): Choice {
  const { kind, level } = request;
  const highest = request.highestLevel ?? 10;
  const last = presentLevel(known, kind);
  const fixed = request.fixedLevel === true;
  if (!Number.isInteger(level) || level < 1 || level > highest)
    throw new RangeError(`level must be 1…${highest}, got ${level}`);
  const present = fixed ? level : Math.min(highest, last ?? level);
  const all = candidates(known, request, {
    ...{ present, fixed: fixed || last === null },
    ...{ lowest: AIM - AIM_WIDTH, aim: AIM },
  });
  const wants = wanted(known, kind, all, present);
  const right = all.filter((one) => miss(one) <= AIM_WIDTH);
  const best =
    right.length === 0
      ? nearest(all)
      : right
          .map((one) => ({
            ...one,
            worth: practiceGain(one.sets, wants).sum * Math.exp(-0.5 * (miss(one) / AIM_SD) ** 2),
          }))
          .reduce((a, b) => (b.worth > a.worth ? b : a));
  const { test, chance } = best;
  return { test, chance, why: why(known, kind, best, practiceGain(best.sets, wants).most) };
}
