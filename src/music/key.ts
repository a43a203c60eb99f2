import { Note, Scale } from 'tonal';
import type { Key } from './score.ts';

/** A key's notes, worked out once. */
export interface SpelledScale {
  /** 0…11, C = 0. */
  readonly tonicPc: number;
  /** Semitones above the tonic, rising from 0. */
  readonly steps: readonly number[];
  /** Letter and accidentals of each step: "A", "C#", "Eb". */
  readonly names: readonly string[];
}

const cache = new Map<string, SpelledScale>();

/**
 * The scale of a key as a theory text spells it. tonal's blues scale writes the fifth lowered (Eb in A);
 * that is the spelling used here.
 * @throws RangeError when tonal knows no such tonic or scale.
 */
export function spelledScale(key: Key): SpelledScale {
  const name = `${key.tonic} ${key.scale}`;
  const known = cache.get(name);
  if (known) return known;
  const scale = Scale.get(name);
  const tonicPc = Note.chroma(key.tonic);
  if (scale.empty || scale.tonic !== key.tonic || tonicPc === undefined)
    throw new RangeError(
      `"${name}" is no key: give a tonic such as A, F# or Eb and a scale such as "minor pentatonic" or "dorian"`,
    );
  const spelled: SpelledScale = {
    tonicPc,
    steps: scale.notes.map((note) => (Note.chroma(note)! - tonicPc + 12) % 12),
    names: scale.notes,
  };
  cache.set(name, spelled);
  return spelled;
}
