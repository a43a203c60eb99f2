import type { Chart } from '../../music/chart.ts';
import { barTicks } from '../../music/metre.ts';
import { spelledScale } from '../../music/key.ts';
import { beatTicks, placeOf } from './place.ts';
import type { Place, PlacedNote } from './types.ts';

/** A stretch that comes again. */
export interface Idea {
  readonly at: Place;
  readonly againAt: Place;
  readonly notes: number;
  /** `repeated`: the same notes; `moved`: higher or lower, step by step of the scale; `rhythm`: its rhythm alone. */
  readonly how: 'repeated' | 'moved' | 'rhythm';
  /** Steps of the scale that it moved: 2 is a third higher; 0 otherwise. */
  readonly steps: number;
  /** Indices of both first notes. */
  readonly from: number;
  readonly again: number;
}

/** Shorter is a figure, not an idea. */
const FEWEST_NOTES = 4;
/** A rhythm alone must be longer, and not one even run, to be heard as the same idea. */
const FEWEST_FOR_RHYTHM = 5;
/** An idea is looked for anew up to this many bars later. */
const MEMORY_BARS = 8;

/** Height in steps of the key's seven notes: a third up is 2 whatever its size; a note between is a half. */
function staffSteps(chart: Chart): (midi: number) => number {
  const scale = spelledScale(chart.key);
  const seven = scale.steps.length === 7 ? scale.steps : [0, 2, scale.steps.includes(4) ? 4 : 3, 5, 7, 9, 10];
  return (midi) => {
    const above = midi - scale.tonicPc;
    const octave = Math.floor(above / 12);
    const inside = above - 12 * octave;
    const step = seven.findLastIndex((s) => s <= inside);
    return 7 * octave + step + (seven[step] === inside ? 0 : 0.5);
  };
}

/**
 * Ideas that come again: the longest runs of notes that one shift in time and height carries onto later notes, as
 * the translations of D. Meredith, K. Lemström and G. Wiggins, "Algorithms for discovering repeated patterns in
 * multidimensional representations of polyphonic music", J. New Music Research 31 (2002), here of unbroken runs; heights in steps of the scale. A run is told once, where it first comes again.
 */
export function ideas(chart: Chart, notes: readonly PlacedNote[]): Idea[] {
  const height = staffSteps(chart);
  const heights = notes.map(({ note }) => height(note.midi));
  const [beat, reach] = [beatTicks(chart), MEMORY_BARS * barTicks(chart.metre)];
  const found: Idea[] = [];
  for (let i = 0; i < notes.length; i++)
    for (let j = i + FEWEST_NOTES; j < notes.length; j++) {
      const shift = notes[j]!.ticks - notes[i]!.ticks;
      // The same place in the beat, or it is another rhythm.
      if (shift > reach || shift % beat !== 0) continue;
      const steps = heights[j]! - heights[i]!;
      const sameTime = (k: number): boolean => notes[j + k]!.ticks - notes[i + k]!.ticks === shift;
      const sameHeight = (k: number): boolean => heights[j + k]! - heights[i + k]! === steps;
      const tune = runOf((k) => i + k < j && j + k < notes.length && sameTime(k) && sameHeight(k));
      const rhythm = runOf((k) => i + k < j && j + k < notes.length && sameTime(k));
      const idea = (how: Idea['how'], length: number): Idea => ({
        at: placeOf(chart, notes[i]!.ticks),
        againAt: placeOf(chart, notes[j]!.ticks),
        notes: length,
        how,
        steps: how === 'moved' ? steps : 0,
        from: i,
        again: j,
      });
      if (tune >= FEWEST_NOTES && turns(heights, i, tune))
        found.push(idea(steps === 0 ? 'repeated' : 'moved', tune));
      else if (rhythm >= FEWEST_FOR_RHYTHM && uneven(notes, i, rhythm)) found.push(idea('rhythm', rhythm));
    }
  return longest(found);
}

function runOf(holds: (k: number) => boolean): number {
  let length = 0;
  while (holds(length)) length++;
  return length;
}

/** One note struck again and again is no tune. */
const turns = (heights: readonly number[], from: number, length: number): boolean =>
  new Set(heights.slice(from, from + length)).size > 1;

/** Two lengths at least: one even run is like any other. */
const uneven = (notes: readonly PlacedNote[], from: number, length: number): boolean =>
  new Set(notes.slice(from, from + length - 1).map((note, k) => notes[from + k + 1]!.ticks - note.ticks))
    .size > 1;

/** The longest first, tunes before rhythms; what lies inside a longer one, or comes again yet again, is left out. */
function longest(found: readonly Idea[]): Idea[] {
  const weight = ({ how, notes }: Idea): number => (how === 'rhythm' ? notes / 2 : notes);
  const kept: Idea[] = [];
  const taken = new Set<number>();
  for (const idea of [...found].sort(
    (a, b) => weight(b) - weight(a) || a.from - b.from || a.again - b.again,
  )) {
    const span = Array.from({ length: idea.notes }, (_, k) => idea.again + k);
    if (span.some((index) => taken.has(index))) continue;
    span.forEach((index) => taken.add(index));
    kept.push(idea);
  }
  return kept.sort((a, b) => a.again - b.again);
}
