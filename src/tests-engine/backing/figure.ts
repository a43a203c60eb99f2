import type { Phrase } from '../../music/score.ts';
import { barTicks, feltBeats } from '../../music/metre.ts';
import type { Hit } from './bar.ts';

/** Onsets of bar `bar` of a phrase, in ticks from its bar line. */
export function onsetsInBar(phrase: Phrase, bar: number): readonly number[] {
  const length = barTicks(phrase.metre);
  return phrase.notes
    .filter((n) => Math.floor(n.startTicks / length) === bar)
    .map((n) => n.startTicks - bar * length);
}

const same = (a: readonly number[], b: readonly number[]) =>
  a.length === b.length && a.every((x, i) => x === b[i]);

/**
 * Keeps one part from playing the figure that is asked for (or its rival in the question): where the part's
 * strokes in a bar are exactly a figure's, one stroke goes, an off-beat before a beat. A single stroke on
 * its own is no figure.
 */
export function withoutFigure(
  hits: readonly Hit[],
  figures: readonly (readonly number[])[],
  phrase: Phrase,
): readonly Hit[] {
  let left = hits;
  const beats = feltBeats(phrase.metre);
  while (
    left.length > 1 &&
    figures.some(
      (f) =>
        f.length > 1 &&
        same(
          f,
          left.map((h) => h.atTicks),
        ),
    )
  ) {
    const offBeat = left.findLastIndex((h) => !beats.includes(h.atTicks));
    left = left.filter((_, i) => i !== (offBeat >= 0 ? offBeat : left.length - 1));
  }
  return left;
}
