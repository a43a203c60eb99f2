import type { Instrument } from '../../../music/score.ts';

/** A tuning: sounding MIDI numbers of the open strings, lowest string first. */
export interface Tuning {
  readonly id: string;
  readonly name: string;
  readonly instrument: Instrument;
  readonly strings: readonly number[];
}

const GUITAR = [40, 45, 50, 55, 59, 64];
const BASS = [28, 33, 38, 43];

/** The first of each instrument is the default. */
export const TUNINGS: readonly Tuning[] = [
  { id: 'guitar', name: 'standard', instrument: 'guitar', strings: GUITAR },
  {
    id: 'guitar-half-down',
    name: 'half a step down',
    instrument: 'guitar',
    strings: GUITAR.map((note) => note - 1),
  },
  { id: 'guitar-drop-d', name: 'dropped D', instrument: 'guitar', strings: [38, ...GUITAR.slice(1)] },
  {
    id: 'guitar-whole-down',
    name: 'a whole step down',
    instrument: 'guitar',
    strings: GUITAR.map((note) => note - 2),
  },
  { id: 'guitar-open-g', name: 'open G', instrument: 'guitar', strings: [38, 43, 50, 55, 59, 62] },
  { id: 'guitar-open-d', name: 'open D', instrument: 'guitar', strings: [38, 45, 50, 54, 57, 62] },
  { id: 'bass', name: 'standard', instrument: 'bass', strings: BASS },
  {
    id: 'bass-half-down',
    name: 'half a step down',
    instrument: 'bass',
    strings: BASS.map((note) => note - 1),
  },
  { id: 'bass-drop-d', name: 'dropped D', instrument: 'bass', strings: [26, ...BASS.slice(1)] },
  {
    id: 'bass-whole-down',
    name: 'a whole step down',
    instrument: 'bass',
    strings: BASS.map((note) => note - 2),
  },
  { id: 'bass-five', name: 'five strings, low B', instrument: 'bass', strings: [23, ...BASS] },
];

/** The default tuning of an instrument. */
export const standardTuning = (instrument: Instrument): Tuning =>
  TUNINGS.find((tuning) => tuning.instrument === instrument)!;
