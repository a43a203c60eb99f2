/**
 * Branded numbers and every conversion between them.
 *
 * A brand stops a tempo from being handed over as seconds. Arithmetic gives plain numbers;
 * the constructors below brand again. Each throws `RangeError` on NaN and infinities, so that a bad
 * number is caught where it is born.
 */
declare const unit: unique symbol;
type Unit<U extends string> = number & { readonly [unit]: U };

/** Time in seconds. */
export type Sec = Unit<'s'>;
/** Frequency in hertz, > 0. */
export type Hz = Unit<'Hz'>;
/** MIDI number, 69 = A4 = 440 Hz (ISO 16); fractional values are detuned pitches. */
export type Midi = Unit<'midi'>;
/** Hundredths of an equal-tempered semitone. */
export type Cents = Unit<'cents'>;
/** Level in decibels; on signals re full scale (amplitude 1 = 0 dBFS). */
export type Db = Unit<'dB'>;
/** Quarter notes a minute. */
export type Bpm = Unit<'bpm'>;
/** Written time: {@link TICKS_PER_QUARTER} to the quarter note, always a whole number. */
export type Ticks = Unit<'ticks'>;

/** 480 divides by 2, 3, 4, 5, 6 and 16: semiquavers and triplets are whole numbers. */
export const TICKS_PER_QUARTER = 480;
/** ISO 16:1975 standard tuning frequency. */
export const A4_HZ = 440;

function finite(value: number, what: string): number {
  if (!Number.isFinite(value)) throw new RangeError(`${what} must be a finite number, got ${value}`);
  return value;
}

export const sec = (value: number): Sec => finite(value, 'seconds') as Sec;
export const midi = (value: number): Midi => finite(value, 'MIDI number') as Midi;
export const cents = (value: number): Cents => finite(value, 'cents') as Cents;
export const db = (value: number): Db => finite(value, 'decibels') as Db;
export function hz(value: number): Hz {
  if (!(finite(value, 'frequency') > 0)) throw new RangeError(`frequency must be > 0 Hz, got ${value}`);
  return value as Hz;
}
export function bpm(value: number): Bpm {
  if (!(finite(value, 'tempo') > 0)) throw new RangeError(`tempo must be > 0 bpm, got ${value}`);
  return value as Bpm;
}
export function ticks(value: number): Ticks {
  if (!Number.isSafeInteger(value)) throw new RangeError(`ticks must be a whole number, got ${value}`);
  return value as Ticks;
}

export const midiToHz = (note: number): Hz => hz(A4_HZ * 2 ** ((note - 69) / 12));
export const hzToMidi = (frequency: number): Midi => midi(69 + 12 * Math.log2(frequency / A4_HZ));
/** Amplitude ratio to decibels; 0 gives the floor instead of minus infinity. */
export const amplitudeToDb = (amplitude: number, floorDb = -200): Db =>
  db(Math.max(floorDb, 20 * Math.log10(Math.max(0, amplitude) || 1e-300)));
export const dbToAmplitude = (level: number): number => 10 ** (level / 20);
export const ticksToSec = (time: number, tempo: number): Sec =>
  sec((time / TICKS_PER_QUARTER) * (60 / tempo));
export const secToTicks = (time: number, tempo: number): number => (time * tempo * TICKS_PER_QUARTER) / 60;
