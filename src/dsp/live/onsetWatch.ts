import { RISE_BANDS, RISE_CAP_DB, RISE_SIZE, riseBins } from '../frames/bandRise.ts';
import { HOP, WORK_RATE } from '../signal/prepared.ts';
import { hann } from '../spectrum/hann.ts';
import { createRealFft } from '../spectrum/realFft.ts';
import type { History } from './history.ts';

/** Frames kept: the eight before, the one asked about, and what follows it. */
const PAST = 8;
const AHEAD = 3;
/** Frames after the peak that must not be greater before it is reported. */
const CONFIRM = 1;
const KEPT = 32;
/** A floor creeps up by 3 dB a second, so that a louder room is learnt. */
const CREEP = 10 ** ((0.3 * HOP) / WORK_RATE);
/** Nothing under −84 dBFS a band is heard as rising. */
const LEAST_POWER = 4e-9 * (RISE_SIZE / 2) ** 2 * 0.25;
/** Floors stand this far above the running minimum (4 dB) … */
const OVER_MINIMUM = 2.5;
/** … and no more than 50 dB under the recent loudest. */
const UNDER_LOUDEST = 1e-5;
const LOUD_MEMORY = Math.exp(-HOP / WORK_RATE / 4);

/** Watches a stream for attacks with the band rise alone. */
export interface OnsetWatch {
  /**
   * To be called once for each frame k = 0, 1 …, when k · HOP + RISE_SIZE / 2 samples have been heard. Gives the
   * frame of a rise that has proved the greatest around, 17 ms back, or −1.
   */
  next(history: History): number;
  /** Rise at the frame last reported, dB. */
  readonly strength: () => number;
}

export function createOnsetWatch(thresholdDb: number, gapSamples: number): OnsetWatch {
  const fft = createRealFft(RISE_SIZE);
  const shape = hann(RISE_SIZE);
  const edges = riseBins();
  const powers = new Float64Array(fft.bins);
  const levels = new Float64Array(KEPT * RISE_BANDS);
  const rises = new Float64Array(KEPT);
  const minimum = new Float64Array(RISE_BANDS).fill(Infinity);
  const loudest = new Float64Array(RISE_BANDS);
  let frame = -1;
  let last = -Infinity;
  let strength = 0;

  function measure(history: History): void {
    frame++;
    const block = history.view(frame * HOP - RISE_SIZE / 2, frame * HOP + RISE_SIZE / 2);
    const missing = RISE_SIZE - block.length;
    for (let i = 0; i < RISE_SIZE; i++) fft.input[i] = i < missing ? 0 : block[i - missing]! * shape[i]!;
    fft.powers(powers, edges[RISE_BANDS]!);
    for (let b = 0; b < RISE_BANDS; b++) {
      let power = 0;
      for (let i = edges[b]!; i < edges[b + 1]!; i++) power += powers[i]!;
      minimum[b] = Math.min(minimum[b]! * CREEP, Math.max(power, LEAST_POWER));
      loudest[b] = Math.max(loudest[b]! * LOUD_MEMORY, power);
      const floor = Math.max(OVER_MINIMUM * minimum[b]!, UNDER_LOUDEST * loudest[b]!, LEAST_POWER);
      levels[(frame % KEPT) * RISE_BANDS + b] = 10 * Math.log10(power + floor);
    }
  }

  function riseAt(k: number): number {
    let sum = 0;
    for (let b = 0; b < RISE_BANDS; b++) {
      let past = -Infinity;
      for (let j = Math.max(0, k - PAST); j <= k - 2; j++)
        past = Math.max(past, levels[(j % KEPT) * RISE_BANDS + b]!);
      let now = 0;
      for (let j = k + 1; j <= k + AHEAD; j++) now += levels[(j % KEPT) * RISE_BANDS + b]!;
      if (past > -Infinity) sum += Math.min(RISE_CAP_DB, Math.max(0, now / AHEAD - past));
    }
    return sum / RISE_BANDS;
  }

  return {
    strength: () => strength,
    next(history) {
      measure(history);
      const newest = frame - AHEAD;
      if (newest < 2) return -1;
      rises[newest % KEPT] = riseAt(newest);
      const k = newest - CONFIRM;
      if (k < 2 || (k - last) * HOP < gapSamples) return -1;
      const value = rises[k % KEPT]!;
      if (value < thresholdDb) return -1;
      for (let j = Math.max(2, k - 4); j <= newest; j++) if (rises[j % KEPT]! > value) return -1;
      last = k;
      strength = value;
      return k;
    },
  };
}
