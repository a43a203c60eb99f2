import { frameCentre, PITCHES } from '../pitch/salience.ts';
import type { PitchFrames } from '../pitch/salience.ts';
import { HOP, ms } from '../signal/prepared.ts';

/** How periodic the sound is around an attack, and whether its pitch changes there. */
export const PERIODICITY = ['per', 'pchg', 'pchgNear', 'step', 'octave', 'dip'] as const;

export interface Periodicity {
  /** As {@link PERIODICITY} names them. */
  readonly values: readonly number[];
  /** Index of the pitch heard most before (−75…−25 ms) and after (20…75 ms). */
  readonly before: number;
  readonly after: number;
  /** 1 − cosine of the salience sums before and after. */
  readonly change: number;
}

/** A step of more than an octave says no more than one. */
const WIDEST_STEP = 12;

/** @param t attack, samples at the working rate */
export function periodicity(pitch: PitchFrames, t: number): Periodicity {
  const before = saliences(pitch, t - ms(75), t - ms(25));
  const after = saliences(pitch, t + ms(20), t + ms(75));
  const near = [saliences(pitch, t - ms(32), t - ms(20)), saliences(pitch, t + ms(20), t + ms(32))] as const;
  const change = apart(before.sum, after.sum);
  const from = greatest(before.sum);
  const to = greatest(after.sum);
  const octave = from !== to && (to - from) % 12 === 0;
  return {
    values: [
      after.mean,
      change,
      apart(near[0].sum, near[1].sum),
      Math.min(WIDEST_STEP, Math.abs(to - from)),
      octave ? 1 : 0,
      dip(pitch, t),
    ],
    before: from,
    after: to,
    change,
  };
}

function frameNear(pitch: PitchFrames, at: number): number {
  const j = Math.round((at - frameCentre(0)) / (2 * HOP));
  return Math.min(pitch.frames - 1, Math.max(0, j));
}

/** Gated salience summed over frames, and the mean of each frame's greatest. */
function saliences(pitch: PitchFrames, from: number, to: number): { sum: Float64Array; mean: number } {
  const sum = new Float64Array(PITCHES);
  let best = 0;
  let count = 0;
  for (let j = frameNear(pitch, from); pitch.frames > 0 && j <= frameNear(pitch, to); j++) {
    let top = 0;
    for (let n = 0; n < PITCHES; n++) {
      const v = pitch.gated[j * PITCHES + n]!;
      sum[n] = sum[n]! + v;
      if (v > top) top = v;
    }
    best += top;
    count++;
  }
  return { sum, mean: count > 0 ? best / count : 0 };
}

/** 1 − cosine. */
function apart(a: Float64Array, b: Float64Array): number {
  let dot = 0;
  let p = 0;
  let q = 0;
  for (let n = 0; n < a.length; n++) {
    dot += a[n]! * b[n]!;
    p += a[n]! ** 2;
    q += b[n]! ** 2;
  }
  return 1 - dot / Math.sqrt(p * q + 1e-12);
}

function greatest(values: Float64Array): number {
  let best = 0;
  for (let n = 1; n < values.length; n++) if (values[n]! > values[best]!) best = n;
  return best;
}

/**
 * How much less periodic the sound is across the attack than before and after it: a re-plucked string's wave
 * begins anew, and no window that straddles the break repeats.
 */
function dip(pitch: PitchFrames, t: number): number {
  const best = (from: number, to: number, start: number): number => {
    let value = start;
    for (let j = frameNear(pitch, t + ms(from)); j <= frameNear(pitch, t + ms(to)); j++)
      value = start > 0 ? Math.min(value, pitch.best[j]!) : Math.max(value, pitch.best[j]!);
    return value;
  };
  if (pitch.frames === 0) return 0;
  return Math.min(best(-60, -15, 0), best(15, 60, 0)) - best(-15, 15, 1);
}
