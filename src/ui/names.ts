import type { Key } from '../music/score.ts';
import { fifthsOf, spelled } from '../notation/index.ts';

const SHARPS = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'];
const FLATS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];

/** "B#" to "B♯": how a name is printed. */
export const printed = (name: string): string => name.replaceAll('#', '♯').replaceAll('b', '♭');

/** The letter name of a sounding MIDI number, spelled as the key would: flats in flat keys. */
export function pitchName(midi: number, key: Key | null): string {
  const names = key && fifthsOf(key) < 0 ? FLATS : SHARPS;
  return printed(names[((Math.round(midi) % 12) + 12) % 12]!);
}

/** "Bb3" to "B♭". */
export function letterOf(spelling: string): string {
  const { letter, accidental } = spelled(spelling);
  return printed(letter + accidental);
}

/** "A minor pentatonic". */
export const keyName = (key: Key): string => `${printed(key.tonic)} ${key.scale}`;

/** 1st, 2nd, 3rd, 4th …: strings are numbered from the highest. */
export function ordinal(n: number): string {
  const ending = n % 100 >= 11 && n % 100 <= 13 ? 'th' : (['th', 'st', 'nd', 'rd'][n % 10] ?? 'th');
  return `${n}${ending}`;
}
