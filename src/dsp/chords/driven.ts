import { WORK_RATE } from '../signal/prepared.ts';

/** Blocks of 50 ms from 0.1 to 0.6 s after the first string. */
const BLOCK = Math.round(0.05 * WORK_RATE);
const FROM = Math.round(0.1 * WORK_RATE);
const BLOCKS = 10;
/** A driven amplifier flattens the wave: the mean fourth power over the squared mean square falls under this. */
const FLAT = 2.15;

/**
 * Does the strum sound overdriven? Finds about two thirds of what is: the player should be asked.
 * @param samples at the working rate; @param first index of the first string
 */
export function soundsDriven(samples: Float32Array, first: number): boolean {
  let sum = 0;
  let count = 0;
  for (let b = 0; b < BLOCKS; b++) {
    const from = first + FROM + b * BLOCK;
    if (from + BLOCK > samples.length) break;
    let square = 0;
    let fourth = 0;
    for (let i = from; i < from + BLOCK; i++) {
      const x = samples[i]! * samples[i]!;
      square += x;
      fourth += x * x;
    }
    if (!(square > 0)) continue;
    sum += (fourth * BLOCK) / (square * square);
    count++;
  }
  return count > 0 && sum / count < FLAT;
}
