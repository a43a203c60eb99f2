import { addTo, energy, sumOf, times } from './arithmetic.ts';
import { convolve, convolveInto, createCorrelator } from './convolve.ts';
import { circulant, conjugateGradient } from './room.ts';
import { inverseFilter, predictor } from '../signal/predictor.ts';
import { learntStretch } from './stretch.ts';

/** A moved microphone changes the early part of the room most: 0.1 s of it is learnt anew. */
const TAPS_SEC = 0.1;
/** Share of the weighted energy added to the diagonal: keeps the correction from eating the guitar. */
const RIDGE = 0.01;
/**
 * Rounds of reweighting and preconditioned steps in each. True cancellation (what is left less the guitar, the
 * guitar eaten counted in) of a 2 cm move at +6 dB, a 10 cm move at +6 dB and +10 dB with RT60 0.6 s: 13.1, 5.1,
 * 8.0 dB without any update; 13.5, 6.0, 9.3 dB with twelve plain steps; 20.3, 12.8, 12.5 with eight
 * preconditioned ones; 22.4, 16.0, 13.7 with two rounds of these. One scene each.
 */
const ROUNDS = 2;
const STEPS = 8;
/**
 * A first correction that changes the prediction by less than −18 dB finds nothing that moved since the hearing:
 * it would be the guitar. Where nothing moved it changed −20…−25 dB, and what it changed was wrong; where the
 * microphone moved by 2 cm, −13 dB.
 */
const LEAST_CHANGE = 10 ** -1.8;
const WHITEN_ORDER = 24;
const POWER_SEC = 0.03;

/**
 * A correction of the room learnt on the take itself: weighted least squares on what is left, each
 * instant weighted by the inverse of the residual's power around it, so that the player's own notes
 * count little (an iteratively reweighted robust fit).
 * @param residual what is left, corrected in place, as `predicted` is; same lengths
 */
export function updateOnTake(
  residual: Float64Array,
  sent: Float64Array,
  predicted: Float64Array,
  rate: number,
): void {
  const taps = Math.round(TAPS_SEC * rate);
  const power = Math.round(POWER_SEC * rate);
  const { from, to } = learntStretch(sent, rate);
  for (let round = 0; round < ROUNDS; round++) {
    const correction = learnCorrection(residual.subarray(from, to), sent.subarray(from, to), taps, power);
    if (!correction) break;
    const least = LEAST_CHANGE * energy(predicted.subarray(from, to));
    if (round === 0 && energy(convolve(sent.subarray(from, to), correction)) < least) break;
    const apply = (at: number, block: Float64Array): void => {
      addTo(residual, block, -1, at);
      addTo(predicted, block, 1, at);
    };
    convolveInto(apply, sent, correction);
  }
}

/** One round; null where nothing was sent. */
function learnCorrection(
  residual: Float64Array,
  sent: Float64Array,
  taps: number,
  power: number,
): Float64Array | null {
  const a = predictor(residual, WHITEN_ORDER);
  const e = inverseFilter(residual, a);
  const x = inverseFilter(sent, a);
  const weight = inversePower(e, power);
  const withSent = createCorrelator(x, taps);
  const column = withSent.correlate(times(x, weight));
  const ridge = RIDGE * column[0]!;
  if (!(ridge > 0)) return null;
  column[0]! += ridge;
  const answer = new Float64Array(x.length);
  const put = (start: number, block: Float64Array): void => {
    for (let n = 0; n < block.length; n++) answer[start + n] = block[n]! * weight[start + n]!;
  };
  return conjugateGradient(
    (h) => {
      convolveInto(put, x, h);
      const back = withSent.correlate(answer);
      for (let k = 0; k < taps; k++) back[k]! += ridge * h[k]!;
      return back;
    },
    withSent.correlate(times(e, weight)),
    STEPS,
    circulant(column, ridge),
  );
}

/** 1 / running mean power over `window` samples, floored at a hundredth of the mean power; scaled to mean 1. */
function inversePower(signal: Float64Array, window: number): Float64Array {
  const power = new Float64Array(signal.length);
  let sum = 0;
  const half = window >> 1;
  for (let n = 0; n < signal.length + half; n++) {
    if (n < signal.length) sum += signal[n]! * signal[n]!;
    if (n >= window) sum -= signal[n - window]! * signal[n - window]!;
    if (n >= half) power[n - half] = Math.max(0, sum) / window;
  }
  const mean = sumOf(power) / power.length;
  for (let n = 0; n < power.length; n++) power[n] = 1 / (power[n]! + 0.01 * mean + 1e-300);
  const level = sumOf(power) / power.length;
  for (let n = 0; n < power.length; n++) power[n]! /= level;
  return power;
}
