import { median } from './median.ts';
import type { Line, Reading } from './placed.ts';

/** Notes whose pairs give the slope: longer takes are thinned out. */
const PAIRED_NOTES = 40;

/**
 * Median of pairwise slopes (Theil 1950, Sen 1968), deaf to single stumbles. For words alone: it jumps where the mark
 * must not.
 */
export function line({ frame: { t, s }, matches }: Pick<Reading, 'frame' | 'matches'>): Line {
  const slopes: number[] = [];
  const stride = Math.max(1, Math.floor(matches.length / PAIRED_NOTES));
  for (let a = 0; a < matches.length; a += stride)
    for (let b = a + 1; b < matches.length; b += stride) {
      const due = t[matches[b].i] - t[matches[a].i];
      if (due > 0) slopes.push((s[matches[b].j] - s[matches[a].j]) / due);
    }
  const found = slopes.length ? median(slopes) : 1;
  const rate = found > 0 ? found : 1;
  return { start: median(matches.map(({ i, j }) => s[j] - rate * t[i])), rate };
}
