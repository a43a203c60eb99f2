import { Note } from 'tonal';
import { chordNames, nameAbove, parseChord, pitchClass } from '../../../music/chords/index.ts';
import { spelledScale } from '../../../music/key.ts';
import type { Key } from '../../../music/score.ts';

/** What can be played over a chord. */
export interface ChordScale {
  /** Spelled names, rising from the chord's root. */
  readonly names: readonly string[];
  /** Pitch classes, 0 = C … 11 = B. */
  readonly classes: ReadonlySet<number>;
  readonly tones: ReadonlySet<number>;
  /** Third and seventh (or sixth), the tones that tell chords apart; common practice, no source. */
  readonly guides: ReadonlySet<number>;
}

/** Keys of fewer than seven notes, and the blues, lend from the scale of seven that they are part of. */
const PARENT: Readonly<Record<string, string>> = {
  'minor pentatonic': 'minor',
  'major pentatonic': 'major',
  blues: 'mixolydian',
};
/** Letters above the tonic of a root outside the key: a lowered one but for the fourth. */
const LETTER = [0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6] as const;
const cache = new Map<string, ChordScale>();

/**
 * The key's scale with every letter that the chord spells otherwise altered as the chord has it: A7 in C major is
 * A B C# D E F G, Fm in C major F G Ab B C D E (common practice, no source). In a blues the notes of the blues
 * scale belong too, over whichever chord.
 * @throws RangeError for a symbol or key that is none
 */
export function chordScale(symbol: string, key: Key): ChordScale {
  const id = `${symbol} ${key.tonic} ${key.scale}`;
  const known = cache.get(id);
  if (known) return known;
  const chord = parseChord(symbol);
  if (!chord) throw new RangeError(`"${symbol}" is no chord; write it as Am7, F#dim or C/E`);
  const own = spelledScale({ ...key, scale: PARENT[key.scale] ?? key.scale });
  // Spelled as the key has its root, whatever a chart writes: Ab7 in B major is G#7.
  const root = pitchClass(chord.root)!;
  const above = (root - own.tonicPc + 12) % 12;
  const inKey = own.names[own.steps.indexOf(above)];
  const tones = chordNames({ ...chord, root: inKey ?? nameAbove(key.tonic, LETTER[above]!, above) });
  const names = new Map(own.names.map((name) => [name[0]!, name]));
  // What sounds the same stays as the key spells it.
  const classes = new Set([...names.values()].map((name) => pitchClass(name)!));
  for (const tone of tones) if (!classes.has(pitchClass(tone)!)) names.set(tone[0]!, tone);
  const rising = [...names.values()].sort(
    (a, b) => ((Note.chroma(a)! - root + 12) % 12) - ((Note.chroma(b)! - root + 12) % 12),
  );
  const all = new Set(rising.map((name) => pitchClass(name)!));
  for (const tone of tones) all.add(pitchClass(tone)!);
  if (key.scale === 'blues')
    for (const step of spelledScale(key).steps) all.add((step + pitchClass(key.tonic)!) % 12);
  const scale: ChordScale = {
    names: rising,
    classes: all,
    tones: new Set(tones.map((tone) => pitchClass(tone)!)),
    guides: new Set([tones[1], tones[3]].flatMap((tone) => (tone === undefined ? [] : [pitchClass(tone)!]))),
  };
  cache.set(id, scale);
  return scale;
}
