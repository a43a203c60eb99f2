/** Taps from which on the tempo is told by them too. */
const FEWEST_FOR_TEMPO = 4;

/** What taps on the beat say: where the first of bar 1 is, and the tempo where there are enough of them. */
export interface Tapped {
  readonly nearSec: number;
  /** Beats a minute; null with fewer than four taps. */
  readonly bpm: number | null;
}

/** @param taps seconds into the recording, in order, the first on beat 1 of bar 1; null without any */
export function tapped(taps: readonly number[]): Tapped | null {
  const [first] = taps;
  if (first === undefined) return null;
  if (taps.length < FEWEST_FOR_TEMPO) return { nearSec: first, bpm: null };
  const gaps = taps.slice(1).map((at, i) => at - taps[i]!);
  const middle = [...gaps].sort((a, b) => a - b)[gaps.length >> 1]!;
  // The line through all taps, each on its own beat: less shaky than any gap.
  let beat = 0;
  const points = taps.map((at, i) => {
    if (i > 0) beat += Math.max(1, Math.round(gaps[i - 1]! / middle));
    return [beat, at] as const;
  });
  const mean = (k: 0 | 1): number => points.reduce((sum, p) => sum + p[k], 0) / points.length;
  const [mx, my] = [mean(0), mean(1)];
  const slope =
    points.reduce((sum, [x, y]) => sum + (x - mx) * (y - my), 0) /
    points.reduce((sum, [x]) => sum + (x - mx) ** 2, 0);
  return { nearSec: my - slope * mx, bpm: 60 / slope };
}
