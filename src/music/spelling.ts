const LETTERS = 'CDEFGAB';
const NATURAL = [0, 2, 4, 5, 7, 9, 11];

/** The sounding MIDI number of a spelling ("Bb3" = 58), or null when it is none. */
export function spelledMidi(spelling: string): number | null {
  const parts = /^([A-G])(#*|b*)(-?\d+)$/.exec(spelling);
  if (!parts) return null;
  const [, letter, signs, octave] = parts;
  const accidental = signs!.length * (signs!.startsWith('b') ? -1 : 1);
  return (Number(octave) + 1) * 12 + NATURAL[LETTERS.indexOf(letter!)]! + accidental;
}
