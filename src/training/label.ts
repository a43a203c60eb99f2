/** How a candidate stands to the truth: 1 the pluck itself, 0 none, null not to be learnt from. */
export type Label = 0 | 1 | null;

/** A candidate further than this from every true onset is none, s. */
const REACH = 0.03;
/** Others this near to an onset that has its candidate teach nothing: the minimum gap removes them anyway, s. */
const SAME = 0.018;

/** The candidate nearest to each true onset (within 30 ms) is its pluck. Times in seconds, sorted. */
export function labels(candidates: readonly number[], onsets: readonly number[]): Label[] {
  const out: Label[] = candidates.map(() => 0);
  for (const onset of onsets) {
    let best = -1;
    candidates.forEach((c, i) => {
      if (
        Math.abs(c - onset) <= REACH &&
        (best < 0 || Math.abs(c - onset) < Math.abs(candidates[best]! - onset))
      )
        best = i;
    });
    if (best < 0) continue;
    candidates.forEach((c, i) => {
      if (i !== best && out[i] !== 1 && Math.abs(c - onset) <= SAME) out[i] = null;
    });
    out[best] = 1;
  }
  return out;
}
