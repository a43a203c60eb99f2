import { doubles } from '../signal/workspace.ts';
import { convolve } from './convolve.ts';
import { BINS, FRAME, type Expected, type Powers } from './expected.ts';

/** ±1.3 ms at 24 kHz: bands 370 Hz wide, and no attack is moved by more. */
const HALF_TAPS = 32;
/** −30 dB. */
const FLOOR = 0.03;

/**
 * The response of one filter for the whole take that lets pass the bands in which the player outweighs the expected
 * leftovers (gain 1 − ΣR/ΣE, zero phase). An attack's instant is read from the bright part of a signal, and over a
 * backing the brightest part of what is left is often leftovers alone. Unlike a gain that opens and closes, one that
 * stands still makes no onsets.
 */
export function clearBands({ left, leftover }: Expected): Float64Array {
  const [e, r] = [inBins(left), inBins(leftover)];
  const gain = e.map((power, b) => Math.max(FLOOR, 1 - r[b]! / (power + 1e-20)));
  // The filter is the gain's inverse cosine transform, under a Hann window.
  const taps = 2 * HALF_TAPS + 1;
  const response = new Float64Array(taps);
  for (let i = 0; i < taps; i++) {
    let sum = gain[0]! + gain[BINS - 1]! * Math.cos(Math.PI * (i - HALF_TAPS));
    for (let b = 1; b < BINS - 1; b++)
      sum += 2 * gain[b]! * Math.cos((2 * Math.PI * b * (i - HALF_TAPS)) / FRAME);
    response[i] = (sum / FRAME) * (0.5 + 0.5 * Math.cos((Math.PI * (i - HALF_TAPS)) / (HALF_TAPS + 1)));
  }
  return response;
}

/** A signal through the filter of {@link clearBands}. */
export function throughClearBands(signal: Float64Array, response: Float64Array): Float64Array {
  const padded = doubles(signal.length + HALF_TAPS);
  padded.set(signal);
  return convolve(padded, response).subarray(HALF_TAPS);
}

/** Power of each bin over all frames. */
function inBins({ frames, power }: Powers): Float64Array {
  const sum = new Float64Array(BINS);
  for (let k = 0; k < frames; k++) for (let b = 0; b < BINS; b++) sum[b]! += power[k * BINS + b]!;
  return sum;
}
