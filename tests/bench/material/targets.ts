import type { Harmonised } from './harmony.ts';
import type { Placed } from './places.ts';

interface Rungs {
  readonly means: readonly number[];
  /** Largest share of pairs of neighbouring levels of which the lower is the harder. */
  readonly turned: number;
}

export interface Measured {
  readonly rungs: Readonly<Record<'melody' | 'rhythm', Rungs>>;
  /** Both kinds, ten levels each. */
  readonly chords: readonly Harmonised[];
  readonly where: readonly Placed[];
  /** The best guesser of each level, %. */
  readonly guessed: readonly number[];
  /** The least of each level, dB. */
  readonly over: readonly number[];
}

/** At the levels at which a beginner plays the hand stays low. */
const LOW_LEVELS = 4;
const LONG_LEVELS = 7;

/** What is to be reached, beside the worst of all levels; a figure that is not reached says so. */
export function targets({ rungs, chords, where, guessed, over }: Measured): void {
  const rises = ({ means }: Rungs): number => Math.min(...means.slice(1).map((mean, i) => mean - means[i]!));
  const least = (values: readonly number[]): number => Math.min(...values);
  const most = (values: readonly number[]): number => Math.max(...values);
  const rows: readonly (readonly [what: string, value: number, reach: number, way: 'least' | 'most', unit: string])[] = [
    ['tests with two chords or more, either kind', least(chords.map((c) => c.twoChords)), 95, 'least', '%'],
    ['third of the chord sounds while chords sound', least(chords.map((c) => c.third)), 90, 'least', '%'],
    ['melodies with the note that makes their scale', least(where.map((p) => p.colour)), 97, 'least', '%'],
    ['the best guesser of the question', most(guessed), 55, 'most', '%'],
    [`highest fret 5 or lower, levels 1 to ${LOW_LEVELS}`, least(where.slice(0, LOW_LEVELS).map((p) => p.five)), 80, 'least', '%'],
    [`notes of the longest melody, levels ${LONG_LEVELS + 1} to 10`, most(where.slice(LONG_LEVELS).map((p) => p.longest)), 20, 'most', ''],
    ['phrase over backing in its own band', least(over), 6, 'least', 'dB'],
    ['melodies: mean difficulty rises from level to level by', rises(rungs.melody), 0, 'least', ''],
    ['rhythms: mean difficulty rises from level to level by', rises(rungs.rhythm), 0, 'least', ''],
    ['melodies: pairs of neighbours turned round', 100 * rungs.melody.turned, 5, 'most', '%'],
    ['rhythms: pairs of neighbours turned round', 100 * rungs.rhythm.turned, 5, 'most', '%'],
  ]; // prettier-ignore
  console.log('\nworst of all levels, and what is to be reached');
  for (const [what, value, reach, way, unit] of rows) {
    const reached = way === 'least' ? value >= reach && value !== 0 : value <= reach;
    console.log(
      `${what.padEnd(58)} ${`${value.toFixed(2)} ${unit}`.padEnd(10)} ${way === 'least' ? '≥' : '≤'} ${reach} ${unit} ${reached ? '' : 'NOT REACHED'}`.trimEnd(),
    );
  }
}
