import { isPitched } from '../../music/kinds.ts';
import type { Cue, DrumPiece, PracticeTest } from '../../music/score.ts';
import { sec } from '../../music/units.ts';
import { barTicks } from '../../music/metre.ts';
import { performedSec } from '../../music/time.ts';
import { arrange } from './arrange/arrange.ts';
import { barOf, readRow, type Hit } from './bar.ts';
import { onsetsInBar, withoutFigure } from './figure.ts';
import { harmonise } from './harmony.ts';
import { pitchedCues, STROKE } from './pitched.ts';
import type { Cell, Style } from './style.ts';
import { styleNamed } from './styles.ts';

interface Part {
  readonly id: DrumPiece | 'bass' | 'chords';
  /** Strokes of one bar. */
  readonly hits: readonly Hit[];
}

/** The parts of one bar, as the style writes them. */
function partsOf(style: Style, test: PracticeTest): readonly Part[] {
  const cells = barOf(style, test.phrase.metre);
  const pieces = [...new Set(cells.flatMap((c) => Object.keys(c.cell.drums) as DrumPiece[]))];
  const part = (id: Part['id'], row: (cell: Cell) => string | undefined): Part => ({
    id,
    hits: cells.flatMap(({ cell, fromTicks }) => readRow(row(cell) ?? '', fromTicks)),
  });
  return [
    ...pieces.map((piece) => part(piece, (cell) => cell.drums[piece])),
    part('bass', (cell) => cell.bass),
    part('chords', (cell) => cell.chords),
  ];
}

/**
 * In a rhythm test only the drums move: chord and bass are struck once a bar and held, since strokes in the
 * low string's own register would be taken for the figure.
 */
function held(part: Part, barLength: number): Part {
  if (part.id !== 'bass' && part.id !== 'chords') return part;
  return {
    id: part.id,
    hits: [{ atTicks: 0, lengthTicks: barLength, sign: part.id === 'bass' ? 'R' : 'x' }],
  };
}

/**
 * The accompaniment of the test's phrase, from its first bar line to its last: drums, bass and chords of the
 * test's style in its key and metre, fitted to its phrase (see {@link harmonise}); sorted by time.
 *
 * - It never doubles the answer: chords and bass move in the style's own figures, and in a rhythm test no
 *   part strikes, in any bar, the figure asked for or its rival in the question.
 * - A bass test has no bass line; the keys carry the root.
 *
 * A test that brings its chords is played by the present arranger ({@link arrange}); one from before there was
 * one sounds as it did.
 *
 * @param fromSec when the phrase's first bar line falls, seconds.
 * @param parts `drums`: the drums alone (the bar between two hearings).
 */
export function backingCues(
  test: PracticeTest,
  fromSec: number,
  parts: 'all' | 'drums' = 'all',
): readonly Cue[] {
  if (test.backing) return arrange(test, fromSec, parts);
  const style = styleNamed(test.style);
  const length = barTicks(test.phrase.metre);
  const rhythm = !isPitched(test.kind);
  const written = partsOf(style, test).map((part) => (rhythm ? held(part, length) : part));
  const harmony = parts === 'all' ? harmonise(test, style) : [];
  const at = (ticks: number) => fromSec + performedSec(ticks, test);
  const figurePhrases = rhythm ? [test.phrase, ...(test.question ? [test.question.other] : [])] : [];
  const cues: Cue[] = [];
  for (let bar = 0; bar < test.phrase.bars; bar++) {
    const figures = figurePhrases.map((phrase) => onsetsInBar(phrase, bar));
    for (const { id, hits } of written)
      for (const hit of withoutFigure(hits, figures, test.phrase)) {
        const start = bar * length + hit.atTicks;
        if (id !== 'bass' && id !== 'chords')
          cues.push({
            type: 'drum',
            piece: id,
            atSec: sec(at(start)),
            velocity: STROKE[hit.sign]! * style.force,
          });
        else if (parts === 'all')
          for (const cue of pitchedCues(id, hit, start, test, harmony, at))
            cues.push({ ...cue, velocity: cue.velocity * style.force });
      }
  }
  return cues.sort((a, b) => a.atSec - b.atSec);
}
