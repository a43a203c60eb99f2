import { OCTAVE_SHARE, PITCH_FREE, PITCH_WIDTH } from './rule.ts';

/** Both note lists brought to one clock and one key. Pitches are NaN where pitch does not count. */
export interface Frame extends StepLimits {
  /** Due times, seconds, ascending. */
  readonly t: Float64Array;
  readonly p: Float64Array;
  /** Played times on the target's clock, ascending. */
  readonly s: Float64Array;
  readonly q: Float64Array;
  /** Half-width of full credit and width of the ramp to none, seconds, for each written note. */
  readonly tol: Float64Array;
  readonly width: Float64Array;
  /** Points lost by playing a note that answers none, those of all before each, and the least. */
  readonly extra: Float64Array;
  readonly extraBefore: Float64Array;
  readonly leastExtra: number;
  /** 0…1: how far a played note's pitch may be held against the student. */
  readonly trust: Float64Array;
  /** A backing sounds: times are judged by the beat too. Otherwise from note to note alone. */
  readonly beat: boolean;
  /** Points for each second (frame's clock) between a note and another whose pitch it takes; 0 in a rhythm. */
  readonly borrow: number;
  /**
   * For a lower bound over tempos and keys around the frame's own: share of each played distance, and semitones, by
   * which those may differ; 0 for the frame itself.
   */
  readonly slack: number;
  readonly bend: number;
}

export function ramp(x: number, free: number, width: number): number {
  const over = (x < 0 ? -x : x) - free;
  return over <= 0 ? 0 : over >= width ? 1 : over / width;
}

/** Share of a note's pitch points lost at `d` semitones off; at least, where it is `d` give or take `bend`. */
export function pitchShare(d: number, bend: number): number {
  const a = d < 0 ? -d : d;
  const over = a - PITCH_FREE - bend;
  const own = over <= 0 ? 0 : over >= PITCH_WIDTH ? 1 : over / PITCH_WIDTH;
  if (own < OCTAVE_SHARE || a + bend < 6) return own;
  const octaves = a < 6 ? 1 : Math.round(a / 12);
  const slip = OCTAVE_SHARE + (1 - OCTAVE_SHARE) * ramp(a - 12 * octaves, PITCH_FREE + bend, PITCH_WIDTH);
  return slip < own ? slip : own;
}

/**
 * Own tempo: a duration may be off by this share of itself. Five times the 2.5 % that can be heard above 240 ms
 * (Friberg & Sundberg 1995), as the floor of 30 ms is five times their 6 ms.
 */
const STEP_FREE_SHARE = 0.125;
/** Off by half of itself more it is another duration: a crotchet has become dotted, or a quaver. */
const STEP_WIDTH_SHARE = 0.5;

/** How far back a note may look for the one it keeps step with. */
export const WINDOW = 3;

/** Limits of the step to written note i from k + 1 notes before it, at `i * WINDOW + k`: free, and the ramp to none. */
export interface StepLimits {
  readonly stepFree: Float64Array;
  readonly stepWidth: Float64Array;
}
export function stepLimits(
  t: Float64Array,
  tol: Float64Array,
  width: Float64Array,
  beat: boolean,
): StepLimits {
  const stepFree = new Float64Array(t.length * WINDOW);
  const stepWidth = new Float64Array(t.length * WINDOW);
  for (let i = 0; i < t.length; i++)
    for (let k = 0; k < WINDOW; k++) {
      const due = beat || i <= k ? 0 : t[i]! - t[i - k - 1]!;
      stepFree[i * WINDOW + k] = Math.max(tol[i]!, STEP_FREE_SHARE * due);
      stepWidth[i * WINDOW + k] = Math.max(width[i]!, STEP_WIDTH_SHARE * due);
    }
  return { stepFree, stepWidth };
}
/** Share of the time points lost by a step from `ii` to `i` that is `x` seconds off. */
export function stepShare(f: StepLimits, i: number, ii: number, x: number): number {
  const at = i * WINDOW + i - ii - 1;
  const over = (x < 0 ? -x : x) - f.stepFree[at]!;
  return over <= 0 ? 0 : over >= f.stepWidth[at]! ? 1 : over / f.stepWidth[at]!;
}
