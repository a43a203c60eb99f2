import type { PracticeTest } from '../../music/score.ts';
import { activeOf, MODEL } from './estimate.ts';
import type { Estimate } from './estimate.ts';
import { bits, partsOfNotes } from './features.ts';
import { belief, expectedLogistic, logit, observe, predictor, relax } from './gaussian.ts';
import type { Belief } from './gaussian.ts';
import { setOf } from './practised.ts';
import type { Channel, Practised } from './types.ts';

/**
 * Five-point Gauss–Hermite rule for a standard normal (abscissae and weights: Abramowitz & Stegun,
 * table 25.10, n = 5, x·√2 and w/√π): exact for polynomials up to degree 9.
 */
const HERMITE = [
  [-2.8569700138728056, 0.011257411327720689],
  [-1.3556261799742659, 0.22207592200561263],
  [0, 0.53333333333333333],
  [1.3556261799742659, 0.22207592200561263],
  [2.8569700138728056, 0.011257411327720689],
] as const;

/** P(at most 0, 1, …, `most` of the notes go wrong), the Poisson-binomial distribution by recursion. */
export function atMostWrong(wrong: readonly number[], most = wrong.length): number[] {
  const mass = Array<number>(Math.min(most, wrong.length) + 1).fill(0);
  mass[0] = 1;
  for (const p of wrong) {
    for (let k = mass.length - 1; k > 0; k--) mass[k] = mass[k]! * (1 - p) + mass[k - 1]! * p;
    mass[0]! *= 1 - p;
  }
  let sum = 0;
  return mass.map((m) => Math.min(1, (sum += m)));
}

/** The part sets of a written note; `pitch` 0 where its pitch is not asked. */
export interface NoteSets {
  readonly pitch: number;
  readonly time: number;
}
const SETS = new WeakMap<PracticeTest, NoteSets[]>();
/** Remembered as long as the test itself is: one test may be weighed for many students. */
export function setsOfTest(test: PracticeTest): NoteSets[] {
  const known = SETS.get(test);
  if (known) return known;
  const sets = partsOfNotes(test).map(({ pitch, time }) => ({
    pitch: bits(pitch, 'pitch'),
    time: bits(time, 'time'),
  }));
  SETS.set(test, sets);
  return sets;
}
export const setsOfPractised = ({ pitch, time }: Practised): NoteSets[] =>
  pitch.map((packed, i) => ({ pitch: setOf(packed), time: setOf(time[i]!) }));

/** What is believed of a written note's η, the day's part taken out of the variance; `pitch` null: not asked. */
export interface NoteBelief {
  readonly pitch: { readonly mean: number; readonly variance: number } | null;
  readonly time: { readonly mean: number; readonly variance: number };
}
const DAY_VARIANCE = MODEL.todaySd ** 2;
export function notesOf(of: Estimate, sets: readonly NoteSets[]): NoteBelief[] {
  const ofSet = (channel: Channel, set: number) => {
    const { mean, variance } = predictor(of[channel].belief, activeOf(set));
    return { mean, variance: Math.max(0, variance - DAY_VARIANCE) };
  };
  return sets.map(({ pitch, time }) => ({
    pitch: pitch === 0 ? null : ofSet('pitch', pitch),
    time: ofSet('time', time),
  }));
}

/** The chance that each note comes off on a usual day; a pitch that is not asked: 1. */
export const chancesOf = (notes: readonly NoteBelief[]): { pitch: number; time: number }[] =>
  notes.map(({ pitch, time }) => ({
    pitch: pitch === null ? 1 : expectedLogistic(pitch.mean, pitch.variance),
    time: expectedLogistic(time.mean, time.variance),
  }));

/**
 * Chance that the test ends "there", before correction by {@link Calibration}: each note comes off with
 * the chance of its parts, in pitch and in time; a note that does not costs 100/n points; "there" is lost
 * when more than 100 − `there` points are. What all notes share (the day) is integrated over.
 */
export function rawChance(notes: readonly NoteBelief[], there: number): number {
  const day = MODEL.todaySd;
  const come = (one: { mean: number; variance: number }, shift: number) =>
    expectedLogistic(one.mean + shift, one.variance);
  const allowed = ((100 - there) / 100) * notes.length;
  const whole = Math.floor(allowed);
  let chance = 0;
  for (const [z, weight] of HERMITE) {
    const wrong = notes.map(
      ({ pitch, time }) => 1 - come(time, z * day) * (pitch === null ? 1 : come(pitch, z * day)),
    );
    const upTo = atMostWrong(wrong, whole + 1);
    const below = upTo[whole] ?? 1;
    chance += weight * (below + (allowed - whole) * ((upTo[whole + 1] ?? 1) - below));
  }
  return chance;
}

/**
 * How much easier (+) or harder (−) "there" is for this student than {@link rawChance} says, in logits:
 * one weight a ~ N(0, 0.7²) with P = σ(logit(raw) + a), learnt from every finished test and relaxing like the
 * parts. It takes in what the formula of marks weighs differently from "a note wrong costs 100/n". (Log loss of
 * 112 simulated records, development seeds: s.d. 1 0.444, 0.7 0.440, 0.5 0.438 but 3 of 100 too low on melodies.)
 */
export const noCalibration = (): Belief => belief([0], [0.7]);

const ONLY = [0];
/** Raw chances outside this are not to be believed to the letter, and would have infinite logits. */
const clamp = (p: number): number => Math.min(0.99, Math.max(0.01, p));

export const chanceThere = (raw: number, calibration: Belief): number =>
  expectedLogistic(logit(clamp(raw)) + calibration.mean[0]!, calibration.cov[0]!);

/** Takes in how a test ended whose raw chance was `raw`. */
export function calibrate(calibration: Belief, raw: number, there: boolean): void {
  relax(calibration, noCalibration(), MODEL.forgetAttempt);
  observe(calibration, ONLY, there, logit(clamp(raw)));
}
