import type { KeyClasses } from './scale.ts';

/** A chord as the backing may sound it: what is left of it after tones that would rub were taken out. */
export interface Chord {
  /** Pitch class of the root, 0 = C. */
  readonly root: number;
  /** Sounding pitch classes, root first if it sounds. */
  readonly tones: readonly number[];
}

export interface Candidate {
  readonly above: number;
  /** Semitones above the root: third, fifth, sometimes seventh. */
  readonly intervals: readonly number[];
  /** What it costs to use the chord at all: 0 for the everyday chords of the mode. */
  readonly strangeness: number;
}

const MAJOR = [0, 4, 7];
const MINOR = [0, 3, 7];

/**
 * The everyday triads of each mode, most usual first. Those with a tone outside the key's seven notes are
 * left out by {@link candidates}; pentatonic and blues keys borrow the triads of their parent mode
 * (natural minor, major). Common practice, no source.
 */
const TRIADS = {
  major: [
    [0, MAJOR],
    [5, MAJOR],
    [7, MAJOR],
    [9, MINOR],
    [2, MINOR],
    [10, MAJOR],
    [7, MINOR],
  ],
  minor: [
    [0, MINOR],
    [10, MAJOR],
    [5, MINOR],
    [8, MAJOR],
    [3, MAJOR],
    [7, MINOR],
    [7, MAJOR],
    [5, MAJOR],
  ],
} as const;
const PARENT = { major: [0, 2, 4, 5, 7, 9, 11], minor: [0, 2, 3, 5, 7, 8, 10] } as const;
const MINOR_SEVENTH = 10;

/** Scales of fewer than seven notes are completed with their parent mode's. */
function completed(key: KeyClasses): ReadonlySet<number> {
  if (key.steps.size >= 7) return key.steps;
  return new Set([...key.steps, ...PARENT[key.mode]]);
}

/** Chords to choose from in this key, then bare fifths on every step, then single tones: never an empty list. */
export function candidates(key: KeyClasses, sevenths: boolean): readonly Candidate[] {
  const inKey = completed(key);
  const triads = TRIADS[key.mode]
    .filter(([above, triad]) => triad.every((i) => inKey.has((above + i) % 12)))
    .map(([above, triad], i) => ({
      above,
      intervals: sevenths ? [...triad, MINOR_SEVENTH] : triad,
      strangeness: i === 0 ? 0 : 0.3 + 0.1 * i,
    }));
  const steps = [...inKey].sort((a, b) => a - b);
  const fifths = steps
    .filter((s) => inKey.has((s + 7) % 12))
    .map((above) => ({ above, intervals: [0, 7], strangeness: 2 }));
  const single = Array.from({ length: 12 }, (_, above) => ({
    above,
    intervals: [0],
    strangeness: inKey.has(above) ? 4 : 8,
  }));
  return [...triads, ...fifths, ...single];
}
