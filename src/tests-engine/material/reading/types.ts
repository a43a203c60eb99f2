import type { Instrument, Key, Phrase } from '../../../music/score.ts';
import type { Bpm, Midi } from '../../../music/units.ts';
import type { HandPosition, PageSign } from '../../../music/task.ts';
import type { MetreName } from '../../../music/metre.ts';

/**
 * Everything a reading level is. What makes a page hard to read is not what makes a phrase hard to hear, so these are
 * other parameters than those of `LevelParameters`. Plain JSON.
 */
export interface ReadingLevel {
  /** What it holds, in a few words. */
  readonly name: string;
  /** What is new against the step below and why it comes here. */
  readonly reason: string;
  readonly keys: readonly { readonly scale: string; readonly tonics: readonly string[] }[];
  /** Metres, each with the lengths it may have: bars to a phrase and phrases to a page, 4…12 bars in all. */
  readonly metres: readonly {
    readonly metre: MetreName;
    readonly forms: readonly (readonly [phraseBars: 2 | 4, phrases: 2 | 3])[];
  }[];
  /** Lowest and highest fret of the index finger; 1 is the open position, with open strings. */
  readonly positions: readonly [number, number];
  /** How often the hand moves to another position, each time where a phrase or a bar begins. */
  readonly shifts: readonly [fewest: number, most: number];
  /** Most ledger lines under and over the staff. */
  readonly ledgers: readonly [under: number, over: number];
  /** Largest interval between neighbours, semitones. */
  readonly maxLeap: number;
  /** Strings that may be crossed between neighbours: 1 = only to the next one. */
  readonly maxStringCross: number;
  /** Rhythm figures, and those of them of which a page holds at least one. */
  readonly figures: readonly string[];
  readonly mustHold: readonly string[];
  /** May a note be tied over a bar line? Inside a bar the figures themselves say it. */
  readonly tiesOverBars: boolean;
  /** Notes outside the key, each a semitone from the note it leads to: fewest and most on a page. */
  readonly approachNotes: readonly [fewest: number, most: number];
  /** Dynamics and articulation: printed, not judged. */
  readonly signs: 'none' | 'dynamics' | 'dynamics and articulation';
  /** Slowest, fastest, step; crotchets a minute. */
  readonly tempo: readonly [number, number, number];
  /** Lowest and highest reading difficulty (`readingDifficulty`), or null for no check. */
  readonly band: readonly [number, number] | null;
}

export type { DynamicWord, HandPosition, PageSign } from '../../../music/task.ts';

/** One page of unseen music: plain JSON, complete without its generator. */
export interface ReadingPage {
  readonly instrument: Instrument;
  /** Sounding MIDI numbers of the open strings, lowest string first. */
  readonly tuning: readonly Midi[];
  readonly key: Key;
  readonly tempoBpm: Bpm;
  readonly phrase: Phrase;
  /** In order; the first at bar 0. */
  readonly positions: readonly HandPosition[];
  readonly signs: readonly PageSign[];
}
