import { convolve, createCorrelator } from './convolve.ts';
import { conjugateGradient } from './room.ts';
import { inverseFilter, predictor } from './whiten.ts';

/** A moved microphone changes the early part of the room most: 0.1 s of it is learnt anew. */
const TAPS_SEC = 0.1;
/** Share of the weighted energy added to the diagonal: keeps the correction from eating the guitar. */
const RIDGE = 0.03;
/** Early stopping is the second guard: 12 steps take most of the bleed and little of the guitar. */
const STEPS = 12;
const WHITEN_ORDER = 24;
const POWER_SEC = 0.03;

/**
 * A correction of the room learnt on the take itself: weighted least squares on what is left, each
 * instant weighted by the inverse of the residual's power around it, so that the player's own notes
 * count little (an iteratively reweighted robust fit with one step).
 * @returns what is left after the correction, and the corrected prediction; same length as given.
 */
export function updateOnTake(
  residual: Float64Array,
  sent: Float64Array,
  predicted: Float64Array,
  rate: number,
): { residual: Float64Array; predicted: Float64Array } {
  const taps = Math.round(TAPS_SEC * rate);
  const a = predictor(residual, WHITEN_ORDER);
  const e = inverseFilter(residual, a);
  const x = inverseFilter(sent, a);
  const weight = inversePower(e, Math.round(POWER_SEC * rate));
  const weighted = (v: Float64Array): Float64Array => v.map((s, n) => s * weight[n]);
  const withSent = createCorrelator(x, taps);
  const right = withSent.correlate(weighted(e));
  let energy = 0;
  for (let n = 0; n < x.length; n++) energy += weight[n] * x[n] * x[n];
  const ridge = RIDGE * energy;
  if (!(energy > 0)) return { residual, predicted };
  const correction = conjugateGradient(
    (h) => {
      const back = withSent.correlate(weighted(convolve(x, h)));
      for (let k = 0; k < taps; k++) back[k] += ridge * h[k];
      return back;
    },
    right,
    STEPS,
  );
  const more = convolve(sent, correction);
  return {
    residual: residual.map((v, n) => v - more[n]),
    predicted: predicted.map((v, n) => v + more[n]),
  };
}

/** 1 / running mean power over `window` samples, floored at a hundredth of the mean power; scaled to mean 1. */
function inversePower(signal: Float64Array, window: number): Float64Array {
  const power = new Float64Array(signal.length);
  let sum = 0;
  const half = window >> 1;
  for (let n = 0; n < signal.length + half; n++) {
    if (n < signal.length) sum += signal[n] * signal[n];
    if (n >= window) sum -= signal[n - window] * signal[n - window];
    if (n >= half) power[n - half] = Math.max(0, sum) / window;
  }
  const mean = power.reduce((s, v) => s + v, 0) / power.length;
  const weights = power.map((v) => 1 / (v + 0.01 * mean + 1e-300));
  const level = weights.reduce((s, v) => s + v, 0) / weights.length;
  return weights.map((v) => v / level);
}
