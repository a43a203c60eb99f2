import type { Key } from '../../../music/score.ts';
import { type QualityId, nameAbove, quality, qualityOf } from '../../../music/chords/index.ts';
import { keyClasses, type KeyClasses } from '../scale.ts';

/** A chord that a backing in this key may use. */
export interface Option {
  /** Semitones of the root above the tonic. */
  readonly above: number;
  readonly triad: QualityId;
  /** With the seventh that belongs to it, or null where it has none that is usual. */
  readonly seventh: QualityId | null;
  /** Pitch classes of the triad, root first. */
  readonly tones: readonly number[];
  /** How far from the everyday: 0 the tonic … 1. */
  readonly strangeness: number;
  /** Tones outside the key's (completed) scale. */
  readonly foreign: readonly number[];
}

/** How full a style's chords are: triads; sevenths as the scale has them; or the blues's dominant sevenths. */
export type Fullness = 'triads' | 'sevenths' | 'blues';

/**
 * Degrees (semitones above the tonic) by scale with their strangeness, most usual first. Functional where the
 * scale has a leading note; where it has none (Dorian, Mixolydian, natural minor, pentatonics) the colour leads:
 * bVII, IV and a minor v. After the root frequencies and successions of T. de Clercq and D. Temperley, "A corpus
 * analysis of rock harmony", Popular Music 30 (2011), I > IV > V > bVII > vi > ii > bVI > iii (from memory), and
 * common practice; the numbers are ours.
 */
const DEGREES: Readonly<Record<string, readonly (readonly [number, number])[]>> = {
  major: [[0, 0], [5, 0.2], [7, 0.1], [9, 0.3], [2, 0.4], [4, 0.8]],
  minor: [[0, 0], [5, 0.2], [10, 0.2], [8, 0.25], [7, 0.3], [3, 0.4]],
  'harmonic minor': [[0, 0], [7, 0], [5, 0.2], [8, 0.4], [2, 0.5], [11, 0.8]],
  dorian: [[0, 0], [5, 0.05], [10, 0.4], [2, 0.4], [7, 0.5], [3, 0.6]],
  mixolydian: [[0, 0], [10, 0.05], [5, 0.2], [7, 0.5], [2, 0.6]],
  blues: [[0, 0], [5, 0.05], [7, 0.1]],
}; // prettier-ignore

const PARENT = { major: [0, 2, 4, 5, 7, 9, 11], minor: [0, 2, 3, 5, 7, 8, 10] } as const;

/** The key's scale; one of fewer than seven notes (and the blues) is completed with its parent's. */
export function completedScale(key: Key, classes: KeyClasses = keyClasses(key)): ReadonlySet<number> {
  if (classes.steps.size >= 7) return classes.steps;
  return new Set([...PARENT[classes.mode], ...classes.steps]);
}

/** Third, fifth and seventh over a degree as the scale has them, or null where they make no chord with a name. */
function stack(
  scale: ReadonlySet<number>,
  above: number,
): { triad: QualityId; seventh: QualityId | null } | null {
  const first = (choices: readonly number[]) => choices.find((i) => scale.has((above + i) % 12));
  // A scale with both thirds (the blues) is heard by its own; the perfect fifth before the lowered.
  const third = first([4, 3]);
  const fifth = first([7, 6, 8]);
  if (third === undefined || fifth === undefined) return null;
  const triad = qualityOf([0, third, fifth]);
  if (!triad) return null;
  const seventh = first([10, 11, 9]);
  const whole = seventh === undefined ? null : qualityOf([0, third, fifth, seventh]);
  // A diminished triad's sixth and the minor triad's major seventh are colours of their own, not of a degree.
  const usual = whole !== null && whole.intervals.length === 4 && whole.letters[3] === 6;
  return { triad: triad.id, seventh: usual && whole.id !== 'minor major seventh' ? whole.id : null };
}

/**
 * The chords of a key for a style, the tonic first; never empty. Chords whose third or fifth the scale lacks
 * are left out; the dominant of a natural minor or minor pentatonic key is offered with its leading note too.
 */
export function palette(key: Key, fullness: Fullness): readonly Option[] {
  const classes = keyClasses(key);
  const blues = fullness === 'blues' && isBluesy(key.scale);
  const own = completedScale(key, classes);
  const name = blues ? 'blues' : key.scale in DEGREES ? key.scale : null;
  const listed: readonly (readonly [number, number])[] =
    name !== null
      ? DEGREES[name]!
      : classes.steps.size < 7 || key.scale === 'chromatic' || classes.steps.size > 7
        ? DEGREES[classes.mode]!
        : [...classes.steps].map((step) => [step, step === 0 ? 0 : 0.5] as const);
  // A chromatic scale, or one with eight notes, says nothing about thirds: its mode does.
  const scale =
    classes.steps.size > 7 || classes.steps.size < 7
      ? new Set<number>(
          key.scale === 'major pentatonic' || classes.mode === 'major' ? PARENT.major : PARENT.minor,
        )
      : own;
  const option = (
    above: number,
    triad: QualityId,
    seventh: QualityId | null,
    strangeness: number,
  ): Option => {
    const tones = quality(triad).intervals.map((i) => (classes.tonic + above + i) % 12);
    const foreign = blues ? [] : tones.filter((pc) => !own.has((pc - classes.tonic + 12) % 12));
    return { above, triad, seventh, tones, strangeness, foreign };
  };
  const found: Option[] = [];
  for (const [above, strangeness] of listed) {
    if (blues) {
      found.push(option(above, 'major', 'dominant seventh', strangeness));
      continue;
    }
    const chord = stack(scale, above);
    // The home chord stands whatever the scale leaves of it.
    if (!chord && above !== 0) continue;
    const { triad, seventh } = chord ?? { triad: classes.mode, seventh: null };
    if (triad === 'diminished' && above === 0) found.push(option(0, 'minor', null, 0));
    else found.push(option(above, triad, seventh, strangeness));
  }
  if (classes.mode === 'minor' && !blues && (classes.steps.size < 7 || key.scale === 'minor'))
    found.push(option(7, 'major', 'dominant seventh', 0.3));
  return found;
}

/** Scales that are played over dominant sevenths: their third may be minor over a chord's major one. */
export const isBluesy = (scale: string): boolean =>
  scale === 'blues' ||
  scale === 'minor pentatonic' ||
  scale === 'major pentatonic' ||
  scale === 'mixolydian' ||
  scale === 'major blues';

/** Letters above the tonic on which each degree's root is written. */
const DEGREE_LETTER = [0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6];
const PLAIN = ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'];

/** The root's name in the key; a name that no chart would use (F flat, B sharp, double signs) is written plainly. */
export function rootName(tonic: string, above: number): string {
  const name = nameAbove(tonic, DEGREE_LETTER[above]!, above);
  return name.length > 2 || ['Fb', 'Cb', 'E#', 'B#'].includes(name)
    ? PLAIN[(keyClasses({ tonic, scale: 'major' }).tonic + above) % 12]!
    : name;
}
