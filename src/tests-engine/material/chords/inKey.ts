import { chordClasses, degreeAbove, pitchClass, type Chord } from '../../../music/chords/index.ts';

const classOf = (name: string): number => pitchClass(name) ?? NaN;
export const sameRoot = (a: string, b: string): boolean => classOf(a) === classOf(b);

/** A chord of the key's own scale, its dominant in minor included. */
export const isOfKey = (
  chord: Chord,
  { tonic, minor }: { readonly tonic: string; readonly minor: boolean },
): boolean =>
  tonesLie(chord, tonic, minor ? MINOR : MAJOR) ||
  (minor && degreeAbove(chord.root, tonic) === 7 && tonesLie(chord, tonic, LEADING_MINOR));

/** Semitones above the tonic: major, natural minor, and the minor of a dominant that leads. */
const MAJOR = [0, 2, 4, 5, 7, 9, 11];
const MINOR = [0, 2, 3, 5, 7, 8, 10];
const LEADING_MINOR = [0, 2, 3, 5, 7, 8, 11];

const tonesLie = (chord: Chord, tonic: string, scale: readonly number[]): boolean =>
  [...chordClasses(chord), ...(chord.bass === null ? [] : [classOf(chord.bass)])].every((pc) =>
    scale.includes((pc - classOf(tonic) + 12) % 12),
  );
