import type { Random } from '../random.ts';
import { CHORD_KINDS, drawChord, sounding } from './shapes.ts';
import type { Fingered } from './shapes.ts';

/** What may go wrong. The first three are right: the chord is what was asked for as far as sound can know. */
export const FAULTS = [
  'right',
  'octave silent', // a doubled class lacks on one string
  'weak string', // one string 8–12 dB down
  'third to fourth',
  'major for minor',
  'no third',
  'muted', // the only string of a class is silent
  'fret off', // one string a semitone off, and no longer of the chord
  'wrong chord',
  'wrong bass', // a chord or other note under the bass asked for
  'silent bass',
  'foreign open string', // a string that should be silent sounds open
  'single note',
] as const;
export type Fault = (typeof FAULTS)[number];
export const RIGHT: readonly Fault[] = ['right', 'octave silent', 'weak string'];

/** Strings as they are played, and how far down each is, dB. */
export interface Faulty {
  readonly strings: readonly (number | null)[];
  readonly downDb: readonly number[];
}

const classes = (strings: readonly (number | null)[]): Set<number> =>
  new Set(strings.filter((n): n is number => n !== null).map((n) => n % 12));

function replaced(
  strings: readonly (number | null)[],
  change: (note: number, index: number) => number | null,
): (number | null)[] {
  return strings.map((note, i) => (note === null ? null : change(note, i)));
}

/** Gives `chord` the fault, or null where it cannot have it. */
export function spoil(chord: Fingered, fault: Fault, random: Random): Faulty | null {
  const { strings, tuning, root, third } = chord;
  const struck = strings.flatMap((note, i) => (note === null ? [] : [i]));
  const asked = classes(strings);
  const even = (played: readonly (number | null)[]): Faulty => ({
    strings: played,
    downDb: played.map(() => 0),
  });
  const thirdClass = third === null ? null : (root + third) % 12;
  const isThird = (note: number): boolean => note % 12 === thirdClass;
  const changed = (played: (number | null)[]): Faulty | null => {
    const now = classes(played);
    return now.size !== asked.size || [...now].some((c) => !asked.has(c)) ? even(played) : null;
  };
  switch (fault) {
    case 'right':
      return even(strings);
    case 'octave silent': {
      const spare = struck
        .slice(1)
        .filter((i) => struck.some((j) => j !== i && (strings[j]! - strings[i]!) % 12 === 0));
      if (spare.length === 0) return null;
      const silent = random.pick(spare);
      return even(strings.map((note, i) => (i === silent ? null : note)));
    }
    case 'weak string': {
      const weak = random.pick(struck);
      return { strings, downDb: strings.map((_, i) => (i === weak ? random.between(8, 12) : 0)) };
    }
    case 'third to fourth':
      if (third !== 3 && third !== 4) return null;
      return changed(replaced(strings, (note) => (isThird(note) ? note + (5 - third) : note)));
    case 'major for minor':
      if (third !== 3 && third !== 4) return null;
      return changed(replaced(strings, (note) => (isThird(note) ? note + (third === 3 ? 1 : -1) : note)));
    case 'no third': {
      if ((third !== 3 && third !== 4) || struck.length < 3) return null;
      return changed(replaced(strings, (note) => (isThird(note) ? null : note)));
    }
    case 'muted': {
      const lonely = struck.filter((i) =>
        struck.every((j) => j === i || strings[j]! % 12 !== strings[i]! % 12),
      );
      // A fifth that is a twelfth over the bass can't be heard to lack; it is left to a row of its own kind of doubt.
      const able = lonely.filter((i) => struck.every((j) => strings[i]! - strings[j]! !== 19));
      if (able.length === 0 || struck.length < 2) return null;
      const silent = random.pick(able);
      return even(strings.map((note, i) => (i === silent ? null : note)));
    }
    case 'fret off': {
      const able = struck.flatMap((i) =>
        [-1, 1]
          .filter((by) => !asked.has((strings[i]! + by + 12) % 12) && strings[i]! + by >= tuning[i]!)
          .map((by) => ({ i, by })),
      );
      if (able.length === 0) return null;
      const { i: off, by } = random.pick(able);
      return even(strings.map((note, i) => (i === off ? note! + by : note)));
    }
    case 'wrong chord':
      for (let tries = 0; tries < 50; tries++) {
        const kind = chord.kind === 'double stop' ? chord.kind : random.pick(CHORD_KINDS.slice(0, 6));
        const other = drawChord(kind, random);
        const now = classes(other.strings);
        const foreign = [...now].filter((c) => !asked.has(c)).length;
        const missing = [...asked].filter((c) => !now.has(c)).length;
        if (foreign >= 1 && missing >= 1) return even(other.strings);
      }
      return null;
    case 'wrong bass': {
      // Another chord note under the bass: on the string below it, or the bass's own string open or lower.
      const lowest = struck[0]!;
      const able = strings.flatMap((_, i) =>
        i > lowest
          ? []
          : Array.from({ length: 6 }, (_x, fret) => ({ i, note: tuning[i]! + fret })).filter(
              ({ note }) =>
                asked.has(note % 12) && note < strings[lowest]! && note % 12 !== strings[lowest]! % 12,
            ),
      );
      if (able.length === 0) return null;
      const bass = random.pick(able);
      return even(
        strings.map((note, i) =>
          i === bass.i ? bass.note : i === lowest && random.chance(0.5) ? null : note,
        ),
      );
    }
    case 'silent bass': {
      if (struck.length < 4) return null;
      return even(strings.map((note, i) => (i === struck[0] ? null : note)));
    }
    case 'foreign open string': {
      const able = strings.flatMap((note, i) => (note === null && !asked.has(tuning[i]! % 12) ? [i] : []));
      if (able.length === 0) {
        // All strings are struck: a finger that does not reach its fret lets its string ring open.
        const fretted = struck.filter((i) => strings[i]! > tuning[i]! && !asked.has(tuning[i]! % 12));
        if (fretted.length === 0) return null;
        const open = random.pick(fretted);
        return even(strings.map((note, i) => (i === open ? tuning[i]! : note)));
      }
      const open = random.pick(able);
      return even(strings.map((note, i) => (i === open ? tuning[i]! : note)));
    }
    case 'single note': {
      if (sounding(chord).length < 3 || asked.size < 2) return null;
      const only = random.pick(struck);
      return even(strings.map((note, i) => (i === only ? note : null)));
    }
  }
}
