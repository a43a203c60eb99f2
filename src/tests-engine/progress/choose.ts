import type { PracticeTest, TestKind } from '../../score.ts';
import { lately, learn, noEstimate, partEstimates } from './estimate.ts';
import type { Estimate, PartEstimate } from './estimate.ts';
import type { Belief } from './gaussian.ts';
import { partsOf } from './parts.ts';
import type { PartId } from './parts.ts';
import { calibrate, chanceThere, noCalibration, rawChance, setsOfPractised, setsOfTest } from './predict.ts';
import type { NoteSets } from './predict.ts';
import { cameUp, noReturns } from './returns.ts';
import type { Returns } from './returns.ts';
import type { Practised } from './types.ts';

/**
 * The success aimed at: four tests of five end "there". Wilson, Shenhav, Straccia & Cohen 2019 ("The
 * eighty five percent rule for optimal learning") derive an error of 15.87 % for gradient descent on
 * two-way classification under Gaussian noise: another kind of learning, and another kind of success. Here
 * success is a whole test, whose single notes then come off 95 times of 100; 0.8 is common practice among
 * teachers of instruments ("if it works four times of five, go on"), no more is claimed for it.
 */
export const AIM = 0.8;
/** A tenth either side is as good: outcomes cannot tell 0.7 from 0.9 before some thirty tests. */
const AIM_WIDTH = 0.1;
/**
 * At the same chance a level more is worth 1.6 times as much of what is wanted: without it practice sinks to
 * easy tests that hold the weak part and little else (simulated students: mean level 3.4 of their 5).
 * 1.6 was taken from five settings, eight students each.
 */
const LEVEL_WORTH = 1.6;
/** Candidates a level. With 16 a part of which one test in five is rich is missed once in 36 choices. */
const CANDIDATES = 16;

export interface ChoiceRequest {
  readonly record: readonly Practised[];
  readonly manner: Practised['manner'];
  readonly kind: TestKind;
  /** Where to begin when there is no record of this kind, and the only level when `fixedLevel`. */
  readonly level: number;
  readonly fixedLevel?: boolean;
  /** The highest level there is, default 10. */
  readonly highestLevel?: number;
  /** Lowest mark for "there". */
  readonly there: number;
  /** Makes the test of a level and seed; the same arguments give the same test. */
  readonly make: (request: {
    readonly kind: TestKind;
    readonly level: number;
    readonly seed: number;
  }) => PracticeTest;
}

/** Why this one; the sentence stands in `ui/messages.ts` under the code. */
export type WhyCode =
  | 'first' // nothing known yet
  | 'weak-part' // brings back what goes wrong: `part`, `testsSince`, `intervalTests`
  | 'level-up' // the level practised has become easy
  | 'level-down' // it is too hard as yet
  | 'about-right'; // nothing is due; about four in five succeed
export interface Choice {
  readonly test: PracticeTest;
  /** Chance that it ends "there", 0…1. */
  readonly chance: number;
  readonly why: {
    readonly code: WhyCode;
    readonly part: PartId | null;
    readonly values: Readonly<Record<string, number>>;
  };
}

interface Known {
  readonly estimate: Estimate;
  readonly calibration: Belief;
  readonly returns: Returns;
  /** The last attempt of the kind asked for. */
  readonly last: Practised | null;
}

function replay({ record, manner, kind, there }: ChoiceRequest): Known {
  const estimate = noEstimate();
  const calibration = noCalibration();
  const returns = noReturns();
  let last: Practised | null = null;
  for (const attempt of lately(record, manner)) {
    if (attempt.outcome !== null && attempt.kind === kind)
      calibrate(
        calibration,
        rawChance(estimate, setsOfPractised(attempt), there),
        attempt.outcome === 'there',
      );
    learn(estimate, attempt);
    cameUp(returns, attempt);
    if (attempt.kind === kind) last = attempt;
  }
  return { estimate, calibration, returns, last };
}

/** A part that is still surely weak is due again after two tests at most, however lucky it was lately. */
const WEAK_WAIT = 2;
/** It weighs as one twice as weak by suspicion. */
const SURE = 2;
/** A part met in fewer notes than this is worth getting to know, as much as one a third of a logit weak. */
const FEW_NOTES = 8;
const NOVELTY = 0.1;

/**
 * How much a note of each part of the kind's channels is wanted once the part's wait is over: how far the
 * part lies under the student's own level, in logits, squared so that the weakest leads. What was weak and
 * got better still wants a little, at the growing waits.
 */
function wants(known: Known, kind: TestKind): { parts: PartEstimate[]; want: number[] } {
  const parts = partEstimates(known.estimate);
  const want = parts.map(({ channel, part, seen, effect, effectSd }) => {
    if (kind === 'rhythm' && channel === 'pitch') return 0;
    if (seen < FEW_NOTES) return NOVELTY;
    const { wait, since } = known.returns[channel][partsOf(channel).indexOf(part)]!;
    const sure = effect + effectSd < 0;
    const due = since + 1 >= (sure ? Math.min(WEAK_WAIT, wait) : wait);
    return due ? (Math.max(0, -effect) * (sure ? SURE : 1)) ** 2 : 0;
  });
  return { parts, want };
}

/** A fifth note with the same part in one test adds little that the first four did not. */
const ENOUGH_NOTES = 4;

/** How much of what is wanted the notes bring, and the part that makes up most of it (-1: none). */
function brings(sets: readonly NoteSets[], parts: readonly PartEstimate[], want: readonly number[]) {
  let sum = 0;
  let most = -1;
  let mostBy = 0;
  parts.forEach(({ channel, part }, i) => {
    if (want[i] === 0) return;
    const bit = partsOf(channel).indexOf(part);
    const notes = sets.filter((set) => (set[channel] >> bit) & 1).length;
    const by = want[i]! * Math.min(ENOUGH_NOTES, notes);
    sum += by;
    if (by > mostBy) [most, mostBy] = [i, by];
  });
  return { sum, most };
}

/** A 32-bit seed from the place in the record, the level and the candidate (Wellons' lowbias32 mixer). */
function seedFor(order: number, level: number, index: number): number {
  let x = ((order % 2 ** 32) ^ Math.imul(level * 64 + index + 1, 0x9e3779b9)) >>> 0;
  x = Math.imul(x ^ (x >>> 16), 0x7feb352d);
  x = Math.imul(x ^ (x >>> 15), 0x846ca68b);
  return (x ^ (x >>> 16)) >>> 0;
}

/**
 * The next test. Of {@link CANDIDATES} tests of the present level and of each neighbour, those whose chance
 * lies about {@link AIM}, and of them the one that brings back most of what is wanted; where none lies
 * there, the nearest. Deterministic in its arguments.
 */
export function chooseNext(request: ChoiceRequest): Choice {
  const known = replay(request);
  const present = known.last?.level ?? request.level;
  const levels = (request.fixedLevel || known.last === null ? [0] : [-1, 0, 1])
    .map((step) => (request.fixedLevel ? request.level : present) + step)
    .filter((level) => level >= 1 && level <= (request.highestLevel ?? 10));
  const order = request.record.reduce((highest, one) => Math.max(highest, one.order), 0);
  const { parts, want } = wants(known, request.kind);
  const candidates = levels.flatMap((level) =>
    Array.from({ length: CANDIDATES }, (_, index) => {
      const test = request.make({ kind: request.kind, level, seed: seedFor(order, level, index) });
      const sets = setsOfTest(test);
      const chance = chanceThere(rawChance(known.estimate, sets, request.there), known.calibration);
      return { test, chance, level, ...brings(sets, parts, want) };
    }),
  );
  if (candidates.length === 0) throw new RangeError(`level must be 1…10, got ${request.level}`);
  const miss = (one: (typeof candidates)[number]) => Math.abs(one.chance - AIM);
  const worth = (one: (typeof candidates)[number]) => one.sum * LEVEL_WORTH ** (one.level - present);
  const right = candidates.filter((one) => miss(one) <= AIM_WIDTH);
  const best =
    right.length > 0
      ? right.reduce((a, b) => (worth(b) > worth(a) ? b : a))
      : candidates.reduce((a, b) => (miss(b) < miss(a) ? b : a));
  const part = best.most < 0 ? null : parts[best.most]!;
  return {
    test: best.test,
    chance: best.chance,
    why: explain(known, best.level - present, part, best.chance),
  };
}

function explain(known: Known, step: number, part: PartEstimate | null, chance: number): Choice['why'] {
  const percent = Math.round(100 * chance);
  if (known.last === null) return { code: 'first', part: null, values: { percent } };
  if (step !== 0)
    return { code: step > 0 ? 'level-up' : 'level-down', part: part?.part ?? null, values: { percent } };
  if (part === null) return { code: 'about-right', part: null, values: { percent } };
  const { wait, since } = known.returns[part.channel][partsOf(part.channel).indexOf(part.part)]!;
  return {
    code: 'weak-part',
    part: part.part,
    values: {
      percent,
      partPercent: Math.round(100 * part.chance),
      testsSince: since + 1,
      intervalTests: wait,
    },
  };
}
