import { isHeard } from '../../music/kinds.ts';
import { belief, expectedLogistic, logistic, logit, observe, predictor, relax, renew } from './gaussian.ts';
import type { Belief } from './gaussian.ts';
import { partsOf } from './parts.ts';
import type { PartId } from './parts.ts';
import { saidOf, setOf } from './practised.ts';
import type { Channel, EarPractised, Practised } from './types.ts';

/**
 * Skill estimates: for each channel an additive logistic model, logit P(right) = base + today + Σ parts of
 * the note (the additive factors model of Cen, Koedinger & Junker 2006, "Learning factors analysis", with
 * a Gaussian prior on the weights and no fixed learning slope: the belief is dynamic instead, so a part may
 * get better or worse). Because all parts of a note share its success, a part that only keeps bad company
 * is not blamed, and a part seen seldom stays wide. `today` is drawn anew for each attempt, so that an off
 * day is put down to the day. Strict and relaxed attempts are estimated apart.
 */
export const MODEL = {
  /**
   * A student at a level of their own gets 96 notes of 100 right in pitch, and in time: then four tests of
   * five of eight notes end "there". ±1 covers 82 to 99 of 100 with 90 %. (Simulated students, 112 records of
   * 60 tests, development seeds: log loss of the first ten tests' outcomes 0.587 with 96, 0.595 with 93.)
   */
  baseMean: logit(0.96),
  baseSd: 1,
  /** A part twice this far below (1.6) turns 9 of 10 into 2 of 3: larger single weaknesses are rare. */
  partSd: 0.8,
  /** Attempts differ by this much for no reason of skill: 9 of 10 on a good day, 5 of 6 on a bad one. */
  todaySd: 0.5,
  /**
   * Relaxation an attempt: evidence 200 attempts old (ten weeks of 20) counts 1/e in the mean. On simulated
   * students 1/70 lost 3 of 100 namings against 1/300 (bench:practice's learner, development seeds).
   */
  forgetAttempt: 1 / 200,
  /** And a day without practice: after two months away, 1/e. */
  forgetDay: 1 / 60,
} as const;

const BASE = 0;
const TODAY = 1;
const FIRST_PART = 2;
const DAY_MS = 86_400_000;

export interface ChannelEstimate {
  readonly belief: Belief;
  /** Notes observed, by part. */
  readonly seen: number[];
  readonly rightSeen: number[];
}
export interface Estimate {
  readonly pitch: ChannelEstimate;
  readonly time: ChannelEstimate;
  attempts: number;
  lastAtMs: number | null;
}

function prior(channel: Channel): Belief {
  const parts = partsOf(channel).map(() => MODEL.partSd);
  return belief([MODEL.baseMean, 0, ...parts.map(() => 0)], [MODEL.baseSd, MODEL.todaySd, ...parts]);
}
const PRIOR: Readonly<Record<Channel, Belief>> = { pitch: prior('pitch'), time: prior('time') };

export function noEstimate(): Estimate {
  const empty = (channel: Channel): ChannelEstimate => ({
    belief: prior(channel),
    seen: partsOf(channel).map(() => 0),
    rightSeen: partsOf(channel).map(() => 0),
  });
  return { pitch: empty('pitch'), time: empty('time'), attempts: 0, lastAtMs: null };
}

/** Weight indexes of a part set. */
export function activeOf(set: number): number[] {
  const active = [BASE, TODAY];
  for (let i = 0; set >> i; i++) if ((set >> i) & 1) active.push(FIRST_PART + i);
  return active;
}

/** Takes the next attempt into the estimate, in place. Attempts must come in order. */
export function learn(estimate: Estimate, attempt: Practised): void {
  // A clock set back gives a negative step: no time has passed. One set forward counts once.
  const days = estimate.lastAtMs === null ? 0 : Math.max(0, attempt.atMs - estimate.lastAtMs) / DAY_MS;
  const keep = (1 - MODEL.forgetAttempt) * Math.exp(-days * MODEL.forgetDay);
  for (const channel of ['pitch', 'time'] as const) {
    const { belief: state, seen, rightSeen } = estimate[channel];
    relax(state, PRIOR[channel], 1 - keep);
    renew(state, TODAY, MODEL.todaySd ** 2);
    for (const packed of attempt[channel]) {
      const right = saidOf(packed);
      if (right === null) continue;
      const active = activeOf(setOf(packed));
      observe(state, active, right);
      for (const weight of active) {
        if (weight < FIRST_PART) continue;
        seen[weight - FIRST_PART]! += 1;
        if (right) rightSeen[weight - FIRST_PART]! += 1;
      }
    }
    renew(state, TODAY, MODEL.todaySd ** 2);
  }
  estimate.attempts += 1;
  estimate.lastAtMs = attempt.atMs;
}

/**
 * Attempts further back than this weigh e^-2 by their number alone and e^-2.3 more by their age at twenty a
 * week (20 weeks): under 2 %. They are not replayed, so that five thousand cost no more than five hundred.
 */
export const LOOK_BACK = 400;
/** The window's beginning moves in steps of this, so that what was replayed last time can mostly be kept. */
const WINDOW_STEP = 100;

const byEar = (attempt: Practised): attempt is EarPractised => isHeard(attempt.kind);

/** The newest {@link LOOK_BACK} ear tests of a manner, up to a hundred more, in order. */
export function lately(record: readonly Practised[], manner: Practised['manner']): EarPractised[] {
  const own = record
    .filter(byEar)
    .filter((attempt) => attempt.manner === manner)
    .sort(byOrder);
  const begin = Math.max(0, own.length - LOOK_BACK);
  return own.slice(begin - (begin % WINDOW_STEP));
}

/** Replays a record. Attempts of another manner are passed over. */
export function estimate(record: readonly Practised[], manner: Practised['manner']): Estimate {
  const result = noEstimate();
  for (const attempt of lately(record, manner)) learn(result, attempt);
  return result;
}

export const byOrder = (a: Practised, b: Practised): number =>
  a.order - b.order || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0);

/** What is known of one part. */
export interface PartEstimate {
  readonly part: PartId;
  readonly channel: Channel;
  /** Notes with this part that were judged. */
  readonly seen: number;
  readonly right: number;
  /** Chance, 0…1, that a usual note with this part comes off: the median of what is believed. */
  readonly chance: number;
  /** The same chance as the mean of what is believed: nearer one half where little is known. */
  readonly expected: number;
  /** 90 % credible limits of it. */
  readonly low: number;
  readonly high: number;
  /** How far the part itself lies under (−) or over the student's own level, in logits, and its s.d. */
  readonly effect: number;
  readonly effectSd: number;
}

/** Every part, in the order of the lists; what was never seen is there too, wide, with `seen` 0. */
export function partEstimates(of: Estimate): PartEstimate[] {
  return (['pitch', 'time'] as const).flatMap((channel) => {
    const { belief: state, seen, rightSeen } = of[channel];
    return partsOf(channel).map((part, i) => {
      const { mean, variance } = predictor(state, [BASE, FIRST_PART + i]);
      const sd = Math.sqrt(variance);
      return {
        part,
        channel,
        seen: seen[i]!,
        right: rightSeen[i]!,
        chance: logistic(mean),
        expected: expectedLogistic(mean, variance),
        low: logistic(mean - 1.645 * sd),
        high: logistic(mean + 1.645 * sd),
        effect: state.mean[FIRST_PART + i]!,
        effectSd: Math.sqrt(state.cov[(FIRST_PART + i) * (state.size + 1)]!),
      };
    });
  });
}

/**
 * The parts that go wrong, surest first, among those seen at all: by how many standard deviations a part
 * lies under the student's own level. A part that failed often ranks before one that failed once, however
 * badly; with little evidence nothing ranks far down. (Ranking by chance alone named the true weakest part
 * of simulated students within three in 94 of 100 runs, this in 97; development seeds.)
 */
export function weakest(of: Estimate): PartEstimate[] {
  const sureness = ({ effect, effectSd }: PartEstimate): number => effect / effectSd;
  return partEstimates(of)
    .filter(({ seen }) => seen > 0)
    .sort((a, b) => sureness(a) - sureness(b) || (a.part < b.part ? -1 : 1));
}
