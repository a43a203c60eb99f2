import type { MarkRequest } from '../../../src/tests-engine/index.ts';

/**
 * Plain alignments, to be beaten: edit distances with the one best tempo or key, and nothing that knows of shifts,
 * restarts or tolerances. Higher is better.
 */
function editDistance(a: readonly number[], b: readonly number[], full: number): number {
  let row = Array.from({ length: b.length + 1 }, (_, k) => k);
  for (let i = 0; i < a.length; i++) {
    const next = [i + 1];
    for (let j = 0; j < b.length; j++)
      next.push(
        Math.min(row[j]! + Math.min(1, Math.abs(a[i]! - b[j]!) / full), row[j + 1]! + 1, next[j]! + 1),
      );
    row = next;
  }
  return row[b.length]! / a.length;
}

/** Onsets stretched so that the first and the last fall together; a mean distance of onsets off is all off. */
export function plainOnsets({ target, played }: MarkRequest): number {
  const scaled = (x: typeof target): number[] =>
    x.map(
      (n) =>
        ((n.onsetSec - x[0]!.onsetSec) / (x[x.length - 1]!.onsetSec - x[0]!.onsetSec || 1)) * target.length,
    );
  return -editDistance(scaled(target), scaled(played), 1);
}

/** Durations between onsets, as shares of the whole. */
export function plainDurations({ target, played }: MarkRequest): number {
  const shares = (x: typeof target): number[] => {
    const whole = x[x.length - 1]!.onsetSec - x[0]!.onsetSec || 1;
    return x.slice(1).map((n, k) => ((n.onsetSec - x[k]!.onsetSec) / whole) * target.length);
  };
  return -editDistance(shares(target), shares(played), 1);
}

/** Pitches in the best of all keys; a tone off is all off. Time is not looked at. */
export function plainPitches({ target, played }: MarkRequest): number {
  const a = target.map((n) => n.midi ?? 0);
  const b = played.map((n) => n.midi ?? 0);
  let best = Infinity;
  for (let shift = -36; shift <= 36; shift += 0.25)
    best = Math.min(
      best,
      editDistance(
        a,
        b.map((x) => x - shift),
        2,
      ),
    );
  return -best;
}
