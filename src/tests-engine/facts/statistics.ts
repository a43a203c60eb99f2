import { middle } from '../../music/numbers.ts';
/** 1.4826 × the median distance from the median: a normal spread's standard deviation, unmoved by a few strays. */
export function robustSpread(values: readonly number[]): number | null {
  const centre = middle(values);
  return centre === null ? null : 1.4826 * middle(values.map((value) => Math.abs(value - centre)))!;
}

/** Value under which a share of the values lies (nearest rank). */
export function quantile(values: readonly number[], at: number): number | null {
  if (values.length === 0) return null;
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(at * sorted.length))]!;
}

/** Slope of the least-squares line, per unit of x; null under three points or where all x are one. */
export function slope(points: readonly (readonly [x: number, y: number])[]): number | null {
  if (points.length < 3) return null;
  const n = points.length;
  const mx = points.reduce((sum, [x]) => sum + x, 0) / n;
  const my = points.reduce((sum, [, y]) => sum + y, 0) / n;
  const sxx = points.reduce((sum, [x]) => sum + (x - mx) ** 2, 0);
  return sxx === 0 ? null : points.reduce((sum, [x, y]) => sum + (x - mx) * (y - my), 0) / sxx;
}
