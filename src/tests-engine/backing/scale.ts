import { Note, Scale } from 'tonal';
import type { Key } from '../../score.ts';

/** A key as pitch classes: 0 = C … 11 = B. */
export interface KeyClasses {
  readonly tonic: number;
  /** Semitones above the tonic that belong to the scale. */
  readonly steps: ReadonlySet<number>;
  readonly mode: 'major' | 'minor';
}

/** Reads a key. Throws RangeError for a tonic or scale that tonal does not know. */
export function keyClasses(key: Key): KeyClasses {
  const tonic = Note.get(key.tonic);
  const scale = Scale.get(`${key.tonic} ${key.scale}`);
  if (tonic.empty || scale.empty)
    throw new RangeError(`"${key.tonic} ${key.scale}" is not a key and scale known to music theory`);
  const steps = new Set(scale.notes.map((name) => (Note.get(name).chroma! - tonic.chroma! + 12) % 12));
  // With both thirds or none (chromatic, suspended scales) the major chord is the plainer home.
  return { tonic: tonic.chroma!, steps, mode: steps.has(3) && !steps.has(4) ? 'minor' : 'major' };
}
