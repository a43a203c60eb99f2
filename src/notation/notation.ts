import type { Phrase } from '../music/score.ts';
import type { BarShape } from './bar.ts';
import { barShape } from './bar.ts';
import { beamed } from './beams.ts';
import type { Stretch } from './split.ts';
import { split } from './split.ts';
import type { TripletSpan } from './tuplets.ts';
import { tripletSpans } from './tuplets.ts';
import type { BarSigns, Sign } from './types.ts';
import { longestWithin, SHORTEST, writtenValue } from './values.ts';

/** A note or a rest as far as it lies in one bar, ticks from the bar line. */
interface Piece extends Stretch {
  readonly noteIndex: number | null;
  readonly fromPrevious: boolean;
  readonly toNext: boolean;
}

function piecesOf(phrase: Phrase, bar: number, shape: BarShape): Piece[] {
  const from = bar * shape.ticks;
  const pieces: Piece[] = [];
  let at = 0;
  phrase.notes.forEach((note, noteIndex) => {
    const start = note.startTicks - from;
    const end = start + note.durationTicks;
    if (end <= 0 || start >= shape.ticks) return;
    const piece = {
      start: Math.max(0, start),
      end: Math.min(shape.ticks, end),
      noteIndex,
      fromPrevious: start < 0,
      toNext: end > shape.ticks,
    };
    if (piece.start > at) pieces.push(rest(at, piece.start));
    pieces.push(piece);
    at = piece.end;
  });
  if (at < shape.ticks) pieces.push(rest(at, shape.ticks));
  return pieces;
}

const rest = (start: number, end: number): Piece => ({
  start,
  end,
  noteIndex: null,
  fromPrevious: false,
  toNext: false,
});

/** Cuts a piece at the edges of triplets, then into single signs; inside a triplet the third is the unit. */
function stretchesOf(piece: Piece, shape: BarShape, spans: readonly TripletSpan[]): Stretch[] {
  const edges = spans.flatMap((span) => [span.start, span.end]);
  const cuts = [
    ...new Set([piece.start, ...edges.filter((e) => e > piece.start && e < piece.end), piece.end]),
  ].sort((a, b) => a - b);
  const kind = piece.noteIndex === null ? 'rest' : 'note';
  return cuts.slice(1).flatMap((end, i) => {
    const start = cuts[i]!;
    const span = spans.find((s) => start >= s.start && end <= s.end && end - start < s.end - s.start);
    if (!span) return split(kind, start, end, shape);
    const scaled: BarShape = {
      ticks: span.third * 4.5,
      beats: [0, span.third * 4.5],
      parts: [0, span.third * 4.5],
    };
    return split(kind, (start - span.start) * 1.5, (end - span.start) * 1.5, scaled).map((s) => ({
      start: span.start + s.start / 1.5,
      end: span.start + s.end / 1.5,
    }));
  });
}

function signsOf(piece: Piece, shape: BarShape, spans: readonly TripletSpan[], barStart: number): Sign[] {
  const stretches = stretchesOf(piece, shape, spans);
  return stretches.map(({ start, end }, i) => {
    const tuplet = spans.findIndex((s) => start >= s.start && end <= s.end && end - start < s.end - s.start);
    const length = tuplet < 0 ? end - start : (end - start) * 1.5;
    const wholeBar = piece.noteIndex === null && end - start === shape.ticks;
    const written = writtenValue(length) ?? writtenValue(longestWithin(length)) ?? SHORTEST;
    return {
      kind: piece.noteIndex === null ? 'rest' : 'note',
      startTicks: barStart + start,
      durationTicks: end - start,
      value: wholeBar ? 'w' : written.value,
      dots: wholeBar ? 0 : written.dots,
      noteIndex: piece.noteIndex,
      tiedFromPrevious: piece.noteIndex !== null && (i > 0 || piece.fromPrevious),
      tiedToNext: piece.noteIndex !== null && (i < stretches.length - 1 || piece.toNext),
      tuplet: tuplet < 0 ? null : tuplet,
      beam: null,
      wholeBar,
    } satisfies Sign;
  });
}

/**
 * The signs of every bar of a phrase: values, dots, ties, rests, triplets and beams.
 * What no sign can show (a third of a quaver inside plain quavers) takes the nearest shorter one: it never throws for
 * what `music/schema` lets in.
 * @returns `phrase.bars` bars; the durations of each add up to the bar.
 */
export function notate(phrase: Phrase): BarSigns[] {
  const shape = barShape(phrase.metre);
  return Array.from({ length: phrase.bars }, (_, bar) => {
    const pieces = piecesOf(phrase, bar, shape);
    const spans = tripletSpans(
      pieces.flatMap((piece) => [piece.start, piece.end]),
      shape,
    );
    const signs = pieces.flatMap((piece) => signsOf(piece, shape, spans, bar * shape.ticks));
    return beamed(signs, shape, bar * shape.ticks);
  });
}
