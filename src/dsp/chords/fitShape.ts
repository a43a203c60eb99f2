import { makeDictionary } from './dictionary.ts';
import { LEVELS_DB } from './fitted/levels.ts';
import { fitGains, onAxis } from './gains.ts';
import { HIGHEST, LOWEST } from './constants.ts';
import { makeInputs, referenceOf } from './inputs.ts';
import type { Fitted, LevelCache } from './inputs.ts';
import type { StrumSpectrum } from './strumSpectrum.ts';
import { tuningOf } from './tuning.ts';
import type { StrumTuning } from './tuning.ts';

/** A strum made ready for any number of shapes. */
export interface PreparedStrum {
  readonly spectrum: StrumSpectrum;
  readonly tuning: StrumTuning;
  readonly axis: Float64Array;
  readonly levels: LevelCache;
}

export const dictionary = makeDictionary(LEVELS_DB);

export function prepareStrum(spectrum: StrumSpectrum): PreparedStrum {
  const tuning = tuningOf(spectrum.db);
  return { spectrum, tuning, axis: onAxis(spectrum, tuning.cents), levels: new Map() };
}

/**
 * Between two semitones the whole guitar may be so far sharp, or as far flat of the next: nearer than this to the middle either is
 * looked at. Strings that scatter and stiffness move what the peaks say by under 8 cents.
 */
const EITHER_FROM_CENTS = 40;

/**
 * The strum as it reads at its tuning; halfway between semitones as it reads a semitone on as well: a guitar up to ±60 cents off is
 * so heard as it was fingered.
 */
export function readingsOf(strum: PreparedStrum): readonly PreparedStrum[] {
  const { spectrum, tuning } = strum;
  if (Math.abs(tuning.cents) < EITHER_FROM_CENTS) return [strum];
  const cents = tuning.cents - 100 * Math.sign(tuning.cents);
  return [
    strum,
    { spectrum, tuning: { ...tuning, cents }, axis: onAxis(spectrum, cents), levels: new Map() },
  ];
}

/** Notes that a shape's verdict looks at: from the lowest open string to an octave and a third over the nut's, or higher. */
export const candidatesTo = (asked: readonly number[]): number =>
  Math.min(HIGHEST, Math.max(Math.max(...asked) + 8, 67));

export interface FittedShape extends Fitted {
  readonly from: number;
  readonly to: number;
  readonly inputs: Float64Array;
}

/** Fits one shape and makes its notes' inputs. @param lowest the instrument's lowest open string, MIDI */
export function fitShape(strum: PreparedStrum, asked: readonly number[], lowest: number): FittedShape {
  const { spectrum, tuning, axis, levels } = strum;
  const from = Math.max(LOWEST, Math.min(lowest, ...asked));
  const to = candidatesTo(asked);
  const gains = fitGains(axis, dictionary, (midi) => asked.includes(midi), from);
  const fitted = {
    asked,
    gains,
    referenceDb: referenceOf(gains.db, asked),
    tuningCents: tuning.cents,
  };
  return { ...fitted, from, to, inputs: makeInputs(spectrum, fitted, LEVELS_DB, from, to, levels) };
}
