/** Strokes as a take keeps them: plain JSON, and as much of what was heard as a mark is made from. */

export type ChordVerdict = 'yes' | 'no' | 'cannot-tell';

/** Why it cannot be told. Texts and remedies are in the catalogue of what is shown on screen. */
export type ChordDoubt =
  | 'out-of-tune' // the strings do not agree on a tuning
  | 'too-short' // the next stroke or the hand comes too soon
  | 'too-quiet' // the notes hardly stand out of what else is heard
  | 'not-a-chord' // much of what sounds is explained by no strings: speech, noise, a backing
  | 'close'; // neither sure enough that it is right nor that it is not

/** What a stroke is as one of the chords asked for. */
export interface TakenAnswer {
  /** Index into the chords asked for. */
  readonly asked: number;
  readonly verdict: ChordVerdict;
  readonly doubt: ChordDoubt | null;
  /** Pitch classes 0…11 asked for that do not sound, and those that sound and were not asked for. */
  readonly missing: readonly number[];
  readonly foreign: readonly number[];
  /** MIDI number of a chord note under the bass asked for; null: none. */
  readonly lowerNote: number | null;
}

/** One stroke with what it is as each chord that it may answer. Times on the clock of its take. */
export interface TakenStrum {
  /** First string, and full brightness: a rake lies between them. */
  readonly firstSec: number;
  readonly fullSec: number;
  /** Until the next stroke, the hand or the end; takes kept before it was do not have it. */
  readonly untilSec?: number;
  readonly answers: readonly TakenAnswer[];
}
