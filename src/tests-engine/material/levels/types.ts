import type { Style } from '../../../music/styles.ts';
import type { MetreName } from '../../../music/metre.ts';

export { STYLES, type Style } from '../../../music/styles.ts';

/** One metre a level may use, how many bars melodies and rhythms have in it, and what is played behind them. */
export interface LevelMetre {
  readonly metre: MetreName;
  readonly melodyBars: 2 | 4;
  /** Two, or four where bars are short (6/8). */
  readonly rhythmBars: 2 | 4;
  /** Fewest and most notes: of a melody in a bar, of a rhythm in either half of it. */
  readonly melodyNotes: readonly [number, number];
  /** Fewest and most notes of a whole melody; left out: what its bars give. */
  readonly melodyLength?: readonly [number, number];
  readonly rhythmNotes: readonly [number, number];
  readonly styles: readonly Style[];
}

/**
 * Everything a level is. Plain JSON: a teacher changes any of it and saves it as a level of their own
 * (`parseLevel` checks it). Semitone numbers count from the tonic (range) or between neighbours (leap).
 */
export interface LevelParameters {
  /** What it holds, in a few words. */
  readonly name: string;
  /** What is new against the step below and why it comes here. */
  readonly reason: string;
  readonly scales: readonly { readonly scale: string; readonly tonics: readonly string[] }[];
  /** Lowest and highest note a melody may use, in semitones from a tonic; one is drawn for each melody. */
  readonly ranges: readonly (readonly [number, number])[];
  /** Lowest and highest fret of the index finger; 1 is the open position, with open strings. */
  readonly positions: readonly [number, number];
  /**
   * Where the hand is at home: up to this fret in at least so many tests of a hundred, where key and tuning let it.
   * Left out: anywhere within {@link positions}.
   */
  readonly home?: { readonly highestFret: number; readonly percent: number };
  /** Largest interval between neighbours, semitones. */
  readonly maxLeap: number;
  /** How many leaps (a fourth or more) a bar may hold on average. */
  readonly leapsPerBar: number;
  /** Strings that may be crossed between neighbours: 1 = only to the next one. */
  readonly maxStringCross: number;
  /** Degrees a melody may start on: 1 = the tonic, 3 and 5 = third and fifth of the tonic chord. */
  readonly firstDegrees: readonly (1 | 3 | 5)[];
  /** Degrees a melody may end on. */
  readonly lastDegrees: readonly (1 | 3 | 5)[];
  /** How many notes outside the scale, each a semitone from the note it leads to. */
  readonly approachNotes: number;
  /** Figures of melodies and of rhythm tests (a rhythm test has one pitch, so it may be a step ahead). */
  readonly melodyFigures: readonly string[];
  readonly rhythmFigures: readonly string[];
  /** May a note be tied over a bar line? Inside a bar the figures themselves say it. */
  readonly tiesOverBars: boolean;
  readonly metres: readonly LevelMetre[];
  /** Slowest, fastest, step; crotchets a minute. */
  readonly tempo: readonly [number, number, number];
  /** Share of the beat the first of two quavers takes; used in 4/4 and 3/4 only, by the shuffle style. */
  readonly swing: readonly number[];
  /** Length of the practice window in lengths of the phrase. */
  readonly practicePhrases: number;
  /** The second rhythm: least distance an onset is moved (ticks), and how many onsets move. */
  readonly question: { readonly leastTicks: number; readonly moves: 1 | 2 };
  /** Lowest and highest difficulty of melodies and of rhythms (`difficulty()`), or null for no check. */
  readonly melodyBand: readonly [number, number] | null;
  readonly rhythmBand: readonly [number, number] | null;
}
