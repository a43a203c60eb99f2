import type { PracticeTest } from '../../score.ts';
import { activeOf, MODEL } from './estimate.ts';
import type { Estimate } from './estimate.ts';
import { bits, partsOfNotes } from './features.ts';
import { belief, expectedLogistic, logit, observe, predictor, relax } from './gaussian.ts';
import type { Belief } from './gaussian.ts';
import { setOf } from './practised.ts';
import type { Practised } from './types.ts';

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

/** P(at most 0, 1, …, n of the notes go wrong), the Poisson-binomial distribution by recursion. */
export function atMostWrong(wrong: readonly number[]): number[] {
  let mass = [1];
  for (const p of wrong) {
    const next = Array<number>(mass.length + 1).fill(0);
    mass.forEach((m, k) => {
      next[k]! += m * (1 - p);
      next[k + 1]! += m * p;
    });
    mass = next;
  }
  let sum = 0;
  return mass.map((m) => Math.min(1, (sum += m)));
}

/** The part sets of a written note; `pitch` 0 where its pitch is not asked. */
export interface NoteSets {
  readonly pitch: number;
  readonly time: number;
}
export const setsOfTest = (test: PracticeTest): NoteSets[] =>
  partsOfNotes(test).map(({ pitch, time }) => ({ pitch: bits(pitch, 'pitch'), time: bits(time, 'time') }));
export const setsOfPractised = ({ pitch, time }: Practised): NoteSets[] =>
  pitch.map((packed, i) => ({ pitch: setOf(packed), time: setOf(time[i]!) }));

/**
 * Chance that the test ends "there", before correction by {@link Calibration}: each note comes off with
 * the chance of its parts, in pitch and in time; a note that does not costs 100/n points; "there" is lost
 * when more than 100 − `there` points are. What all notes share (the day) is integrated over.
 */
export function rawChance(of: Estimate, sets: readonly NoteSets[], there: number): number {
  const notes = sets.map(({ pitch, time }) => ({
    pitch: pitch === 0 ? null : predictor(of.pitch.belief, activeOf(pitch)),
    time: predictor(of.time.belief, activeOf(time)),
  }));
  const day = MODEL.todaySd;
  const come = (one: { mean: number; variance: number }, shift: number) =>
    expectedLogistic(one.mean + shift, Math.max(0, one.variance - day * day));
  const allowed = ((100 - there) / 100) * notes.length;
  const whole = Math.floor(allowed);
  let chance = 0;
  for (const [z, weight] of HERMITE) {
    const wrong = notes.map(
      ({ pitch, time }) => 1 - come(time, z * day) * (pitch === null ? 1 : come(pitch, z * day)),
    );
    const upTo = atMostWrong(wrong);
    const below = upTo[whole] ?? 1;
    chance += weight * (below + (allowed - whole) * ((upTo[whole + 1] ?? 1) - below));
  }
  return chance;
}

/**
 * How much easier (+) or harder (−) "there" is for this student than {@link rawChance} says, in logits:
 * one weight a ~ N(0, 1) with P = σ(logit(raw) + a), learnt from every finished test and relaxing like the
 * parts. It takes in what the formula of marks weighs differently from "a note wrong costs 100/n".
 */
export const noCalibration = (): Belief => belief([0], [1]);

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
