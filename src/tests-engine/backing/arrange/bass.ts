import { type Chord, chordClasses, pitchClass, quality } from '../../../music/chords/index.ts';
import { atOrAbove } from '../voicing.ts';

/** E1, the bass guitar's lowest string in standard tuning. */
const FLOOR = 28;
/** B2: above it a bass comes among the guitar's low strings. */
const CEILING = 47;
/** Roots lie in the lowest octave and a half, each as near as can be to the one before. */
const ROOT_CEILING = 42;

/** Pitch class of what sounds lowest: the bass that a chord names ("C/E"), else its root. */
export const lowestClass = (chord: Chord): number =>
  chord.bass === null ? chordClasses(chord)[0]! : pitchClass(chord.bass)!;

/** The lowest note of each chord under the line, every one as near to the last as its octave allows. */
export function bassRoots(chords: readonly Chord[]): readonly number[] {
  let before = 34;
  return chords.map((chord) => {
    const low = atOrAbove(lowestClass(chord), FLOOR);
    const options = [low, low + 12].filter((m) => m <= ROOT_CEILING);
    const best = options.reduce((a, b) => (Math.abs(b - before) < Math.abs(a - before) ? b : a), low);
    before = best;
    return best;
  });
}

/** What a bass stroke sounds. `next` is the root of the chord to come (or the chord's own). */
export function bassNote(sign: string, chord: Chord, root: number, next: number): number {
  const { intervals } = quality(chord.quality);
  const has = (choices: readonly number[], fallback: number): number =>
    choices.find((i) => intervals.includes(i)) ?? fallback;
  const above = (interval: number): number => {
    const note = root + interval;
    return note <= CEILING ? note : note - 12 >= FLOOR ? note - 12 : root;
  };
  switch (sign) {
    case '3':
      return above(has([4, 3, 5, 2], 7));
    case '5':
      return above(has([7, 6, 8], 7));
    // The sixth over a chord with a major third, as a walking line takes it; a minor chord's is its fifth.
    case '6':
      return above(intervals.includes(4) ? 9 : 7);
    case '7':
      return above(has([10, 11, 9], intervals.includes(4) ? 9 : 10));
    case '8':
      return above(12);
    case '^':
      return next;
    default:
      return root;
  }
}

/**
 * The note that leads into the next root: a step of the scale or a semitone from it, from the side of the note
 * before. @param inScale tells whether a MIDI number belongs to the key.
 */
export function leadingBass(before: number, next: number, inScale: (note: number) => boolean): number {
  const options = [next - 1, next + 1, next - 2, next + 2].filter(
    (note) => note >= FLOOR && note <= CEILING && inScale(note) && note !== before,
  );
  const near = (note: number): number =>
    Math.abs(note - before) + (Math.sign(next - note) === Math.sign(next - before) ? 0 : 4);
  return options.length === 0 ? before : options.reduce((a, b) => (near(b) < near(a) ? b : a));
}
