import type { Chart } from '../../music/chart.ts';
import type { PhraseFacts } from './phrases.ts';
import { share, type PlacedNote, type Share } from './types.ts';

/**
 * The shape of a phrase by its first note, the mean of those between and its last, each compared with the others:
 * the nine classes of D. Huron, "The melodic arch in Western folksongs", Computing in Musicology 10 (1996).
 */
export type Contour =
  | 'convex'
  | 'concave'
  | 'ascending'
  | 'descending'
  | 'horizontal'
  | 'horizontal-ascending'
  | 'horizontal-descending'
  | 'ascending-horizontal'
  | 'descending-horizontal';

export interface LineFacts {
  readonly notes: number;
  readonly notesPerBar: number;
  /** Lowest and highest MIDI number, or null of nothing. */
  readonly range: readonly [number, number] | null;
  /** Melodic intervals (inside phrases) wider than a major third. */
  readonly leaps: Share;
  /** Intervals of a semitone or a tone. */
  readonly steps: Share;
  /** One a phrase of three notes or more. */
  readonly contours: readonly Contour[];
}

/** Wider than a major third is a leap (ours). */
const WIDEST_SKIP = 4;
/** Nearer than this, semitones, is as high. */
const LEVEL = 0.5;

export function contourOf(pitches: readonly number[]): Contour | null {
  if (pitches.length < 3) return null;
  const [first, last] = [pitches[0]!, pitches.at(-1)!];
  const inner = pitches.slice(1, -1);
  const mean = inner.reduce((sum, p) => sum + p, 0) / inner.length;
  const direction = (from: number, to: number): -1 | 0 | 1 =>
    Math.abs(to - from) < LEVEL ? 0 : to > from ? 1 : -1;
  const names: Record<string, Contour> = {
    '1,-1': 'convex',
    '-1,1': 'concave',
    '1,1': 'ascending',
    '-1,-1': 'descending',
    '0,0': 'horizontal',
    '0,1': 'horizontal-ascending',
    '0,-1': 'horizontal-descending',
    '1,0': 'ascending-horizontal',
    '-1,0': 'descending-horizontal',
  };
  return names[[direction(first, mean), direction(mean, last)].join()]!;
}

export function lineFacts(chart: Chart, notes: readonly PlacedNote[], { phrases }: PhraseFacts): LineFacts {
  const pitches = notes.map(({ note }) => note.midi as number);
  const moves = phrases.flatMap(({ from, to }) =>
    pitches.slice(from + 1, to).map((pitch, i) => Math.abs(pitch - pitches[from + i]!)),
  );
  return {
    notes: notes.length,
    notesPerBar: notes.length / chart.bars,
    range: pitches.length === 0 ? null : [Math.min(...pitches), Math.max(...pitches)],
    leaps: share(moves.filter((m) => m > WIDEST_SKIP).length, moves.length),
    steps: share(moves.filter((m) => m === 1 || m === 2).length, moves.length),
    contours: phrases.flatMap(({ from, to }) => contourOf(pitches.slice(from, to)) ?? []),
  };
}
