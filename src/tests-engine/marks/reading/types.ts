import type { Mark, PlayedNote, TargetNote } from '../types.ts';

/** Something that happened at a place of the page; bars count from 1. */
export type ReadingEvent =
  /** The music stood still before this bar and beat; then it went on. */
  | { readonly kind: 'stopped'; readonly bar: number; readonly beat: number; readonly beats: number }
  /** From `fromBar` the player went back to `bar`. */
  | { readonly kind: 'wentBack'; readonly bar: number; readonly fromBar: number }
  /** Bars that were not played at all. */
  | { readonly kind: 'leftOut'; readonly bar: number; readonly toBar: number }
  /** From this bar on the tempo is another one, percent (+ is faster). */
  | { readonly kind: 'drifted'; readonly bar: number; readonly percent: number }
  /** The page was not played to its end: the last bar reached. */
  | { readonly kind: 'ended'; readonly bar: number };

export interface PlacesOrder {
  readonly target: readonly TargetNote[];
  readonly played: readonly PlayedNote[];
  readonly mark: Mark;
  /** The metre's unit, as in a mark's request, and how many of them a bar has. */
  readonly beatSec: number;
  readonly beatsPerBar: number;
  /** What is felt as a beat: a crotchet in 4/4, a dotted one in 6/8. */
  readonly feltBeatSec: number;
  readonly bars: number;
}

/** A written note and the played one that answers it. */
export interface Answered {
  readonly i: number;
  readonly j: number;
}
