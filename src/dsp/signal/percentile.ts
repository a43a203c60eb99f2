/** The value below which `share` (0…1) of `values` lie; 0 where there are none. Does not change `values`. */
export function percentile(values: ArrayLike<number>, share: number): number {
  if (values.length === 0) return 0;
  const sorted = new Float64Array(values).sort();
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
}
