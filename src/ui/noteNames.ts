/** How notes are named: English letters; German, where B is B flat and H is B; or do, re, mi at fixed pitches. */
export type NoteNames = 'english' | 'german' | 'do';

const DO: Readonly<Record<string, string>> = {
  C: 'Do',
  D: 'Re',
  E: 'Mi',
  F: 'Fa',
  G: 'Sol',
  A: 'La',
  B: 'Si',
};

/** "B#" to "B♯", "Bbb" to "B♭♭": how accidentals are printed. */
const signs = (accidental: string): string => accidental.replaceAll('#', '♯').replaceAll('b', '♭');

/**
 * German names as LilyPond's "deutsch" has them (scm/define-note-names.scm): -is and -es, with Es, As, their doubles
 * Eses, Asas, and B, H, Heses, His of the seventh note.
 */
function german(letter: string, accidental: string): string {
  const flats = accidental.startsWith('b') ? accidental.length : 0;
  if (flats === 0) return (letter === 'B' ? 'H' : letter) + 'is'.repeat(accidental.length);
  if (letter === 'B') return flats === 1 ? 'B' : 'Heses';
  if (letter === 'A') return flats === 1 ? 'As' : 'Asas';
  return letter === 'E' ? `Es${'es'.repeat(flats - 1)}` : letter + 'es'.repeat(flats);
}

/** The name of a letter with its accidentals (`#`, `##`, `b`, `bb` or nothing), without octave. */
export function nameIn(names: NoteNames, letter: string, accidental: string): string {
  if (names === 'german') return german(letter, accidental);
  return (names === 'do' ? DO[letter]! : letter) + signs(accidental);
}
