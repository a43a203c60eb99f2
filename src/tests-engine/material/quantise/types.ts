import type { Key, Metre, Phrase } from '../../../music/score.ts';
import type { Bpm } from '../../../music/units.ts';

/** A note on the written grid, without spelling or place on the neck: what is edited by hand. */
export interface LineNote {
  /** From the first bar line. */
  readonly startTicks: number;
  readonly durationTicks: number;
  readonly midi: number;
}

export interface QuantiseOptions {
  readonly metre: Metre;
  /** Bars of the click that was played to, 1…16; null: as many as the notes fill. */
  readonly bars: number | null;
  /** Tempo of the click, crotchets a minute; null: estimated, the first note taken for beat 1. */
  readonly tempoBpm: number | null;
  /** 0.5 = straight quavers … 0.75. */
  readonly swing: number;
  /** null: estimated from the notes. */
  readonly key: Key | null;
  /** Sounding MIDI numbers of the open strings, lowest first. */
  readonly tuning: readonly number[];
}

/** What was played, as it would be written. */
export interface Quantised {
  readonly phrase: Phrase;
  readonly tempoBpm: Bpm;
  readonly key: Key;
  /** Indices of notes that a person should look at: unsure to the ear, or far from where they are written. */
  readonly doubtful: readonly number[];
  /** How many heard notes are not written: outside the bars or the instrument, or two in one place. */
  readonly leftOut: number;
  /** What the player came late all through and was taken off, seconds; negative = early. */
  readonly lateSec: number;
}
