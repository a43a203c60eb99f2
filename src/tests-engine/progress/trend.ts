import { median } from '../../music/numbers.ts';
/**
 * A trend through scattered values: the local level model, y_t = level_t + noise, level a random walk,
 * smoothed over the whole record (Durbin & Koopman 2012, "Time Series Analysis by State Space Methods",
 * ch. 2: Kalman filter and fixed-interval smoother).
 */
export interface TrendPoint {
  readonly value: number;
  /** The level there and its 90 % limits. */
  readonly level: number;
  readonly low: number;
  readonly high: number;
}
export interface Trend {
  readonly points: readonly TrendPoint[];
  /** Level at the end minus level at the start of the last `CHANGE_SPAN` values, with 90 % limits. */
  readonly change: { readonly by: number; readonly low: number; readonly high: number } | null;
  /** `too-few` under five values; `steady` also means: cannot be told from no change. */
  readonly direction: 'rising' | 'falling' | 'steady' | 'too-few';
}

/** Values that "lately" looks back over: about two weeks of practice of one kind. */
const CHANGE_SPAN = 20;
/** Under five values a direction would be noise: a 90 % limit then rests on two or three differences. */
const FEWEST = 5;
/** The level moves by this share of the noise's s.d. a value: a half-life of memory of about seven values. */
const SIGNAL = 0.1;
const Z90 = 1.645;

/** Noise s.d. from successive differences (so that a trend does not count), by the median: robust. */
function noiseSd(values: readonly number[], floor: number): number {
  const steps = values.slice(1).map((v, i) => Math.abs(v - values[i]!));
  // For normal noise the median absolute difference is 0.6745·√2 s.d.
  return Math.max(floor, median(steps) / (0.6745 * Math.SQRT2));
}

/**
 * @param values in order of time; marks, ms of bias, ms of unevenness, each finite
 * @param floor smallest believable noise s.d. in the values' unit (marks: 5; ms: 5)
 */
export function trend(values: readonly number[], floor: number): Trend {
  const bad = values.find((value) => !Number.isFinite(value));
  if (bad !== undefined) throw new RangeError(`values must be finite, got ${bad}`);
  if (!(floor > 0)) throw new RangeError(`floor must be > 0, got ${floor}`);
  const n = values.length;
  if (n === 0) return { points: [], change: null, direction: 'too-few' };
  const noise = noiseSd(values, floor) ** 2;
  const drift = noise * SIGNAL ** 2;
  // Filter. The first level is known only from the first value.
  const mean = [values[0]!];
  const variance = [noise];
  for (let t = 1; t < n; t++) {
    const predicted = variance[t - 1]! + drift;
    const gain = predicted / (predicted + noise);
    mean.push(mean[t - 1]! + gain * (values[t]! - mean[t - 1]!));
    variance.push((1 - gain) * predicted);
  }
  // Smoother; `joint[t]` is the covariance of level t with the last level.
  const smooth = [...mean];
  const spread = [...variance];
  const joint = [...variance];
  for (let t = n - 2; t >= 0; t--) {
    const back = variance[t]! / (variance[t]! + drift);
    smooth[t] = mean[t]! + back * (smooth[t + 1]! - mean[t]!);
    spread[t] = variance[t]! + back * back * (spread[t + 1]! - variance[t]! - drift);
    joint[t] = back * joint[t + 1]!;
  }
  const points = values.map((value, t) => {
    const half = Z90 * Math.sqrt(spread[t]!);
    return { value, level: smooth[t]!, low: smooth[t]! - half, high: smooth[t]! + half };
  });
  if (n < FEWEST) return { points, change: null, direction: 'too-few' };
  const from = Math.max(0, n - CHANGE_SPAN);
  const by = smooth[n - 1]! - smooth[from]!;
  const half = Z90 * Math.sqrt(Math.max(0, spread[n - 1]! + spread[from]! - 2 * joint[from]!));
  const change = { by, low: by - half, high: by + half };
  return { points, change, direction: change.low > 0 ? 'rising' : change.high < 0 ? 'falling' : 'steady' };
}
