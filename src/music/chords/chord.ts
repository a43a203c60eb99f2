import { QUALITIES, quality, type QualityId } from './qualities.ts';

/** A chord by name. */
export interface Chord {
  /** Letter and at most one accidental: "A", "F#", "Eb". */
  readonly root: string;
  readonly quality: QualityId;
  /** The lowest note where it is not the root ("C/E"), else null. */
  readonly bass: string | null;
}

/** How two things are written that writers of charts disagree on. */
export interface ChordWriting {
  readonly majorSeventh: 'maj7' | 'Δ';
  readonly minor: 'm' | '-';
}
export const USUAL_WRITING: ChordWriting = { majorSeventh: 'maj7', minor: 'm' };

const LETTERS = 'CDEFGAB';
const NATURAL = [0, 2, 4, 5, 7, 9, 11];

/** Pitch class of a note's name, 0 = C … 11 = B; null where it is none. Any number of accidentals of one kind. */
export function pitchClass(name: string): number | null {
  const parts = /^([A-G])(#*|b*)$/.exec(name);
  if (!parts) return null;
  const signs = parts[2]!;
  const moved = signs.length * (signs.startsWith('b') ? -1 : 1);
  return (((NATURAL[LETTERS.indexOf(parts[1]!)]! + moved) % 12) + 12) % 12;
}

const sure = (name: string): number => {
  const pc = pitchClass(name);
  if (pc === null) throw new RangeError(`"${name}" is no note name; give a letter such as A, F# or Eb`);
  return pc;
};

/** The name of pitch class `pc` written on the letter `letters` above that of `from`: (C, 2, 3) is Eb. */
export function nameAbove(from: string, letters: number, semitones: number): string {
  const letter = (LETTERS.indexOf(from[0]!) + letters) % 7;
  const wanted = (sure(from) + semitones) % 12;
  const off = ((((wanted - NATURAL[letter]!) % 12) + 18) % 12) - 6;
  return LETTERS[letter]! + (off < 0 ? 'b' : '#').repeat(Math.abs(off));
}

/**
 * Pitch classes of a chord's tones, root first; a bass that is none of them is not among them.
 * @throws RangeError for a root that is no note.
 */
export function chordClasses(chord: Pick<Chord, 'root' | 'quality'>): readonly number[] {
  const root = sure(chord.root);
  return quality(chord.quality).intervals.map((i) => (root + i) % 12);
}

/** The tones spelled, root first: Bb7 is Bb D F Ab, Bdim7 is B D F Ab. */
export function chordNames(chord: Pick<Chord, 'root' | 'quality'>): readonly string[] {
  const { intervals, letters } = quality(chord.quality);
  return intervals.map((semitones, i) => nameAbove(chord.root, letters[i]!, semitones));
}

/** "Am7", "C/E", "F#m7b5". */
export function chordSymbol(chord: Chord, writing: ChordWriting = USUAL_WRITING): string {
  let suffix = quality(chord.quality).suffix;
  if (writing.majorSeventh === 'Δ') suffix = suffix.replace('maj7', 'Δ');
  if (writing.minor === '-') suffix = suffix.replace(/^m(?!aj)/, '-');
  return chord.root + suffix + (chord.bass === null ? '' : `/${chord.bass}`);
}

const bySuffix = new Map(
  QUALITIES.flatMap((q) => [q.suffix, ...q.aliases].map((suffix) => [suffix, q.id] as const)),
);

/** Reads a chord symbol in any of the listed spellings; null where it is none. */
export function parseChord(symbol: string): Chord | null {
  const parts = /^([A-G](?:#|b)?)(.*?)(?:\/([A-G](?:#|b)?))?$/u.exec(symbol.trim());
  if (!parts) return null;
  const id = bySuffix.get(parts[2]!);
  if (id === undefined) return null;
  return { root: parts[1]!, quality: id, bass: parts[3] ?? null };
}
