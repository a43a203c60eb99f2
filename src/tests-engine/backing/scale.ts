import type { Key } from '../../music/score.ts';
import { spelledScale } from '../material/theory/scale.ts';

/** A key as pitch classes: 0 = C … 11 = B. */
export interface KeyClasses {
  readonly tonic: number;
  /** Semitones above the tonic that belong to the scale. */
  readonly steps: ReadonlySet<number>;
  readonly mode: 'major' | 'minor';
}

/** Reads a key. Throws RangeError for a tonic or scale that is none. */
export function keyClasses(key: Key): KeyClasses {
  const { tonicPc, steps } = spelledScale(key);
  // With both thirds or none (chromatic, suspended scales) the major chord is the plainer home.
  const mode = steps.includes(3) && !steps.includes(4) ? 'minor' : 'major';
  return { tonic: tonicPc, steps: new Set(steps), mode };
}
