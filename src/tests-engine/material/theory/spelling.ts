import type { SpelledScale } from '../../../music/key.ts';

export { spelledMidi } from '../../../music/spelling.ts';

const LETTERS = 'CDEFGAB';
const NATURAL = [0, 2, 4, 5, 7, 9, 11];

/** "Bb3" from a name and a sounding MIDI number: the octave is that of the letter (Cb4 sounds as B3). */
function withOctave(name: string, midiNumber: number): string {
  let accidental = 0;
  for (let i = 1; i < name.length; i++) accidental += name[i] === '#' ? 1 : -1;
  return `${name}${Math.floor((midiNumber - accidental) / 12) - 1}`;
}

/** Spelling of a scale note, or null for a pitch that is not in the scale. */
export function spellInScale(scale: SpelledScale, midiNumber: number): string | null {
  const index = scale.steps.indexOf((((midiNumber - scale.tonicPc) % 12) + 12) % 12);
  return index < 0 ? null : withOctave(scale.names[index]!, midiNumber);
}

/**
 * Spelling of a chromatic approach note: a letter away from the note it leads to, so that the semitone is
 * written as a minor second (rising D#–E, falling Eb–D). null where that needs a double accidental.
 */
export function spellApproach(midiNumber: number, goalMidi: number, goalSpelling: string): string | null {
  const rising = goalMidi > midiNumber;
  const goal = LETTERS.indexOf(goalSpelling[0]!);
  const letter = (goal + (rising ? 6 : 1)) % 7;
  const accidental = ((midiNumber - NATURAL[letter]! + 18) % 12) - 6;
  if (Math.abs(accidental) > 1) return null;
  const sign = accidental === 1 ? '#' : accidental === -1 ? 'b' : '';
  return withOctave(`${LETTERS[letter]}${sign}`, midiNumber);
}
