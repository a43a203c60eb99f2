import { median } from '../../music/numbers.ts';
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
  for (let k = 0; k < matches.length; k += stride)
    for (let l = k + 1; l < matches.length; l += stride) {
      const [a, b] = [matches[k]!, matches[l]!];
      const due = t[b.i]! - t[a.i]!;
      if (due > 0) slopes.push((s[b.j]! - s[a.j]!) / due);
    }
  const found = slopes.length ? median(slopes) : 1;
  const rate = found > 0 ? found : 1;
  return { start: median(matches.map(({ i, j }) => s[j]! - rate * t[i]!)), rate };
}
