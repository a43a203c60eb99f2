import type { BarShape } from './bar.ts';
import type { Stretch } from './split.ts';

/** A stretch of the bar written as triplets. */
export interface TripletSpan extends Stretch {
  /** One third of the span. */
  readonly third: number;
}

const onGrid = (at: number, span: Stretch, grid: number): boolean => (at - span.start) % grid === 0;

/**
 * Finds where a bar needs triplets: beats with a boundary off the binary grid, and halves of the bar
 * whose three equal notes cross its beat (crotchet triplets).
 *
 * @param edges every start and end of a note in the bar, ticks from the bar line.
 */
export function tripletSpans(edges: readonly number[], shape: BarShape): TripletSpan[] {
  const spans: TripletSpan[] = [];
  const { beats } = shape;
  for (let i = 0; i + 1 < beats.length; i += 1) {
    const beat: Stretch = { start: beats[i]!, end: beats[i + 1]! };
    const length = beat.end - beat.start;
    if (length % 480 !== 0) continue;
    // Semiquavers and demisemiquavers are 120 and 60; anything between them is a third of something.
    const inside = edges.filter((edge) => edge > beat.start && edge < beat.end);
    if (
      inside.every((edge) => onGrid(edge, beat, 60) && (onGrid(edge, beat, 120) || !onGrid(edge, beat, 80)))
    )
      continue;
    const next = beats[i + 2];
    const pair: Stretch | null = next === undefined ? null : { start: beat.start, end: next };
    const shared = pair && edges.filter((edge) => edge > pair.start && edge < pair.end);
    if (
      pair &&
      shared &&
      !edges.includes(beat.end) &&
      shared.every((edge) => onGrid(edge, pair, length * (2 / 3)))
    ) {
      spans.push({ ...pair, third: (length * 2) / 3 });
      i += 1;
    } else spans.push({ ...beat, third: length / 3 });
  }
  return spans;
}
