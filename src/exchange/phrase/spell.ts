/** Note letters along the circle of fifths; C stands at 0. */
const FIFTHS = ['F', 'C', 'G', 'D', 'A', 'E', 'B'];
const C_INDEX = 1;
const NATURAL: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };

/** Name of a place on the circle of fifths, C = 0: 6 is F#, −2 is Bb. */
export function nameOnCircle(place: number): string {
  const index = place + C_INDEX;
  const turns = Math.floor(index / 7);
  return FIFTHS[index - turns * 7]! + (turns >= 0 ? '#'.repeat(turns) : 'b'.repeat(-turns));
}

/** MIDI number of a letter with accidentals in an octave ("Bb", 3). */
export function midiOf(name: string, octave: number): number {
  const accidentals = [...name.slice(1)].reduce((sum, sign) => sum + (sign === '#' ? 1 : -1), 0);
  return NATURAL[name[0]!]! + accidentals + 12 * (octave + 1);
}

/** "Bb3" from a name and the MIDI number it shall be; the octave is that of the letter. */
export function withOctave(name: string, midi: number): string {
  return `${name}${(midi - midiOf(name, -1)) / 12 - 1}`;
}

/**
 * Spells a pitch in a key signature: of its names the one nearest the key on the circle of fifths, from three
 * fifths under the tonic of the major key to eight above (in C: Eb … G#, which holds both melodic minors).
 */
export function spelledByKey(midi: number, fifths: number): string {
  const place = (((midi * 7 - (fifths - 3)) % 12) + 12) % 12;
  return withOctave(nameOnCircle(fifths - 3 + place), midi);
}
