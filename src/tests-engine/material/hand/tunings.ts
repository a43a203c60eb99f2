import type { Instrument } from '../../../music/score.ts';

/** What hangs on the player: a kind of instrument has its own tunings. A four-stringed one of guitar kind is a ukulele. */
export type Strings = 'guitar' | 'guitar-seven' | 'ukulele' | 'bass' | 'bass-five';

/** A tuning: sounding MIDI numbers of the open strings, lowest string first. */
export interface Tuning {
  readonly id: string;
  readonly name: string;
  readonly instrument: Instrument;
  readonly kind: Strings;
  readonly strings: readonly number[];
}

const GUITAR = [40, 45, 50, 55, 59, 64];
const BASS = [28, 33, 38, 43];

/** The first of each instrument is the default. */
export const TUNINGS: readonly Tuning[] = [
  { id: 'guitar', name: 'standard', instrument: 'guitar', kind: 'guitar', strings: GUITAR },
  {
    id: 'guitar-half-down',
    name: 'half a step down',
    instrument: 'guitar',
    kind: 'guitar',
    strings: GUITAR.map((note) => note - 1),
  },
  {
    id: 'guitar-drop-d',
    name: 'dropped D',
    instrument: 'guitar',
    kind: 'guitar',
    strings: [38, ...GUITAR.slice(1)],
  },
  {
    id: 'guitar-whole-down',
    name: 'a whole step down',
    instrument: 'guitar',
    kind: 'guitar',
    strings: GUITAR.map((note) => note - 2),
  },
  {
    id: 'guitar-open-g',
    name: 'open G',
    instrument: 'guitar',
    kind: 'guitar',
    strings: [38, 43, 50, 55, 59, 62],
  },
  {
    id: 'guitar-open-d',
    name: 'open D',
    instrument: 'guitar',
    kind: 'guitar',
    strings: [38, 45, 50, 54, 57, 62],
  },
  { id: 'bass', name: 'standard', instrument: 'bass', kind: 'bass', strings: BASS },
  {
    id: 'bass-half-down',
    name: 'half a step down',
    instrument: 'bass',
    kind: 'bass',
    strings: BASS.map((note) => note - 1),
  },
  { id: 'bass-drop-d', name: 'dropped D', instrument: 'bass', kind: 'bass', strings: [26, ...BASS.slice(1)] },
  {
    id: 'bass-whole-down',
    name: 'a whole step down',
    instrument: 'bass',
    kind: 'bass',
    strings: BASS.map((note) => note - 2),
  },
  {
    id: 'bass-five',
    name: 'five strings, low B',
    instrument: 'bass',
    kind: 'bass-five',
    strings: [23, ...BASS],
  },
  {
    id: 'guitar-seven',
    name: 'seven strings, low B',
    instrument: 'guitar',
    kind: 'guitar-seven',
    strings: [35, ...GUITAR],
  },
  {
    id: 'guitar-seven-drop-a',
    name: 'seven strings, low A',
    instrument: 'guitar',
    kind: 'guitar-seven',
    strings: [33, ...GUITAR],
  },
  // Re-entrant: the fourth string lies above the third. Common practice, no source.
  {
    id: 'ukulele',
    name: 'ukulele, high G',
    instrument: 'guitar',
    kind: 'ukulele',
    strings: [67, 60, 64, 69],
  },
  {
    id: 'ukulele-low-g',
    name: 'ukulele, low G',
    instrument: 'guitar',
    kind: 'ukulele',
    strings: [55, 60, 64, 69],
  },
  {
    id: 'ukulele-baritone',
    name: 'baritone ukulele',
    instrument: 'guitar',
    kind: 'ukulele',
    strings: [50, 55, 59, 64],
  },
];

/** The default tuning of an instrument. */
export const standardTuning = (instrument: Instrument): Tuning =>
  TUNINGS.find((tuning) => tuning.instrument === instrument)!;

/** A capo may sit up to here: above it too few frets are left. */
export const HIGHEST_CAPO = 9;
const ID = /^(.+?)(?:\+([1-9]))?$/;

/** The fret of the capo in a tuning's id ("guitar-drop-d+2"); 0 without one. */
export const capoOf = (id: string): number => Number(ID.exec(id)?.[2] ?? 0);

/** A tuning's id with a capo at a fret, 0 for none. */
export const withCapo = (id: string, fret: number): string =>
  `${ID.exec(id)?.[1] ?? id}${fret > 0 ? `+${fret}` : ''}`;

/**
 * The tuning of an id of the table, with or without a capo, or the instrument's usual one where the two do not fit.
 * With a capo the open strings are what sounds from it: frets and TAB count from the capo.
 */
export function tuningNamed(id: string, instrument: Instrument): Tuning & { readonly base: string } {
  const base = ID.exec(id)?.[1];
  const found = TUNINGS.find((tuning) => tuning.id === base && tuning.instrument === instrument);
  if (!found) {
    const usual = standardTuning(instrument);
    return { ...usual, base: usual.id };
  }
  const capo = capoOf(id);
  return { ...found, id, base: found.id, strings: found.strings.map((open) => open + capo) };
}
