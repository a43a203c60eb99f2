import {
  chordClasses,
  pitchClass,
  SHAPE_FAMILIES,
  type Chord,
  type QualityId,
  type ShapeFamily,
} from '../../../music/chords/index.ts';

/** One way to finger a chord on a guitar in standard tuning. */
export interface ChordShape {
  readonly chord: Chord;
  /** Frets, lowest string first; null where a string is not struck. */
  readonly frets: readonly (number | null)[];
  readonly family: ShapeFamily;
}

export { SHAPE_FAMILIES, type ShapeFamily };

/** Sounding MIDI numbers of a guitar's open strings in standard tuning, lowest first. */
const STANDARD = [40, 45, 50, 55, 59, 64] as const;
const ROOTS = ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'] as const;

/** "x32010": frets, lowest string first. */
const read = (text: string, by = 0): (number | null)[] =>
  [...text].map((sign) => (sign === 'x' ? null : Number(sign) + by));

/** Shapes with open strings; common practice, no source. */
const OPEN: readonly (readonly [root: string, quality: QualityId, frets: string])[] = [
  ['C', 'major', 'x32010'],
  ['A', 'major', 'x02220'],
  ['G', 'major', '320003'],
  ['E', 'major', '022100'],
  ['D', 'major', 'xx0232'],
  ['A', 'minor', 'x02210'],
  ['E', 'minor', '022000'],
  ['D', 'minor', 'xx0231'],
  ['F', 'major', 'xx3211'],
  ['A', 'suspended fourth', 'x02230'],
  ['D', 'suspended fourth', 'xx0233'],
  ['E', 'suspended fourth', '022200'],
  ['A', 'suspended second', 'x02200'],
  ['D', 'suspended second', 'xx0230'],
];
const SEVENTHS: typeof OPEN = [
  ['C', 'dominant seventh', 'x32310'],
  ['A', 'dominant seventh', 'x02020'],
  ['G', 'dominant seventh', '320001'],
  ['E', 'dominant seventh', '020100'],
  ['D', 'dominant seventh', 'xx0212'],
  ['B', 'dominant seventh', 'x21202'],
  ['A', 'minor seventh', 'x02010'],
  ['E', 'minor seventh', '022030'],
  ['D', 'minor seventh', 'xx0211'],
  ['C', 'major seventh', 'x32000'],
  ['F', 'major seventh', 'xx3210'],
  ['D', 'major seventh', 'xx0222'],
  ['A', 'major seventh', 'x02120'],
];
const SLASHES: readonly (readonly [root: string, quality: QualityId, bass: string, frets: string])[] = [
  ['D', 'major', 'F#', '2x0232'],
  ['C', 'major', 'G', '332010'],
  ['G', 'major', 'B', 'x20033'],
  ['C', 'major', 'E', '032010'],
  ['A', 'minor', 'G', '3x2210'],
  ['D', 'major', 'A', 'x00232'],
  ['F', 'major', 'C', 'x33211'],
];

/** A shape that moves along the neck: its frets when its root is at fret `at`, the string of its root from below, how far it goes. */
interface Movable {
  readonly family: ShapeFamily;
  readonly quality: QualityId;
  readonly frets: string;
  /** Index of the root's string, lowest 0, and its fret in `frets`. */
  readonly root: readonly [string: number, fret: number];
  /** Highest fret that the root goes to. */
  readonly to: number;
}
const MOVABLE: readonly Movable[] = [
  { family: 'barre', quality: 'major', frets: '022100', root: [0, 0], to: 9 },
  { family: 'barre', quality: 'minor', frets: '022000', root: [0, 0], to: 9 },
  { family: 'barre', quality: 'major', frets: 'x02220', root: [1, 0], to: 9 },
  { family: 'barre', quality: 'minor', frets: 'x02210', root: [1, 0], to: 9 },
  { family: 'power', quality: 'fifth', frets: '022xxx', root: [0, 0], to: 10 },
  { family: 'power', quality: 'fifth', frets: 'x022xx', root: [1, 0], to: 10 },
  { family: 'seventh', quality: 'dominant seventh', frets: '020100', root: [0, 0], to: 8 },
  { family: 'seventh', quality: 'minor seventh', frets: '020000', root: [0, 0], to: 8 },
  { family: 'seventh', quality: 'dominant seventh', frets: 'x02020', root: [1, 0], to: 8 },
  { family: 'seventh', quality: 'minor seventh', frets: 'x02010', root: [1, 0], to: 8 },
  { family: 'seventh', quality: 'major seventh', frets: 'x02120', root: [1, 0], to: 8 },
  { family: 'extended', quality: 'dominant ninth', frets: 'x32333', root: [1, 3], to: 9 },
  { family: 'extended', quality: 'minor ninth', frets: 'x31333', root: [1, 3], to: 9 },
  { family: 'extended', quality: 'major ninth', frets: 'x3243x', root: [1, 3], to: 9 },
  { family: 'extended', quality: 'half-diminished', frets: 'x3434x', root: [1, 3], to: 9 },
  { family: 'extended', quality: 'minor sixth', frets: '3x233x', root: [0, 3], to: 9 },
  { family: 'extended', quality: 'diminished seventh', frets: 'x3424x', root: [1, 3], to: 9 },
  { family: 'triad', quality: 'major', frets: 'xxx010', root: [4, 1], to: 10 },
  { family: 'triad', quality: 'major', frets: 'xxx232', root: [4, 3], to: 10 },
  { family: 'triad', quality: 'minor', frets: 'xxx231', root: [4, 3], to: 10 },
  { family: 'triad', quality: 'minor', frets: 'xxx555', root: [5, 5], to: 10 },
];

function everyShape(): ChordShape[] {
  const shapes: ChordShape[] = [
    ...OPEN.map(([root, quality, frets]) => ({
      chord: { root, quality, bass: null },
      frets: read(frets),
      family: 'open' as const,
    })),
    ...SEVENTHS.map(([root, quality, frets]) => ({
      chord: { root, quality, bass: null },
      frets: read(frets),
      family: 'seventh' as const,
    })),
    ...SLASHES.map(([root, quality, bass, frets]) => ({
      chord: { root, quality, bass },
      frets: read(frets),
      family: 'slash' as const,
    })),
  ];
  for (const { family, quality, frets, root, to } of MOVABLE) {
    const [string, fret] = root;
    // Fret 0 of these is an open shape or none at all: a movable one has every string stopped.
    const lowest = Math.min(...read(frets).filter((f) => f !== null));
    for (let by = 1 - lowest; fret + by <= to; by++)
      shapes.push({
        chord: { root: ROOTS[(STANDARD[string]! + fret + by) % 12]!, quality, bass: null },
        frets: read(frets, by),
        family,
      });
  }
  return shapes;
}

/** Every shape that can be asked for. */
export const CHORD_SHAPES: readonly ChordShape[] = everyShape();

/** MIDI numbers that a shape sounds, lowest string first. */
export const soundingOf = (shape: Pick<ChordShape, 'frets'>): number[] =>
  shape.frets.flatMap((fret, i) => (fret === null ? [] : [STANDARD[i]! + fret]));

/** Does the shape hold no note but the chord's, and every one that the chord can't do without (its fifth may lack)? */
export function holdsItsChord({ chord, frets }: ChordShape): boolean {
  const bass = chord.bass === null ? [] : [pitchClass(chord.bass)!];
  const classes = chordClasses(chord);
  const sounds = new Set(soundingOf({ frets }).map((note) => note % 12));
  const fifth = (classes[0]! + 7) % 12;
  return (
    [...sounds].every((pc) => classes.includes(pc) || bass.includes(pc)) &&
    classes.every((pc) => sounds.has(pc) || (pc === fifth && classes.length > 3))
  );
}
