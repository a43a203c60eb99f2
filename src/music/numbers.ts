/** The middle of a list in any order, which stays as it is: of an even number the mean of the middle two; 0 of none. */
export function median(values: Iterable<number>): number {
  const sorted = Float64Array.from(values).sort();
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : ((sorted[half - 1] ?? 0) + (sorted[half] ?? 0)) / 2;
}

/** The median; null of none. */
export const middle = (values: readonly number[]): number | null =>
  values.length === 0 ? null : median(values);

/**
 * The middle of a list in any order, which stays as it is: of an even number the upper of the middle two; 0 of none. What
 * the ears have learnt was measured so: never a value that was not there.
 */
export const upperMedian = (values: Iterable<number>): number => {
  const sorted = Float64Array.from(values).sort();
  return sorted[sorted.length >> 1] ?? 0;
};

/**
 * Where between three neighbouring values a parabola through them has its top, as an offset from the middle one: −1…1
 * where that is the largest of the three. 0 where they do not bend down.
 */
export function peakOffset(before: number, at: number, after: number): number {
  const bend = before - 2 * at + after;
  return bend < 0 ? (0.5 * (before - after)) / bend : 0;
}
