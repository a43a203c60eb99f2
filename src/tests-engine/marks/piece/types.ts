/** A written note of a piece as it is due, seconds on the clock of the backing from the first bar asked for. */
export interface PieceTarget {
  readonly onsetSec: number;
  readonly midi: number;
  /** Bar as it passes, counted from 0. */
  readonly bar: number;
}

export interface PiecePlayed {
  readonly onsetSec: number;
  readonly midi: number;
  /** 0…1, see `HeardNote.confidence`. */
  readonly confidence: number;
}

export interface PieceRequest {
  /** In order of time; one line. */
  readonly target: readonly PieceTarget[];
  /** In order of time. */
  readonly played: readonly PiecePlayed[];
  /** Where each bar begins, and where the last ends: one more than there are bars; seconds, as the targets. */
  readonly barSecs: readonly number[];
  /** Length of a felt beat at the start, s. */
  readonly beatSec: number;
  /** Half-width of what is not known of the latency, ms; Infinity: not measured. */
  readonly latencyUncertaintyMs?: number;
}

/**
 * How a bar went.
 * `right`: all of it, or all but what was not heard clearly · `slip`: one note or a few of many · `wrong`: a third of its
 * notes or more · `silent`: hardly anything was played · `elsewhere`: other bars of the piece were played in its time ·
 * `beside`: its notes, but not where the backing was · `unclear`: too little of it was heard clearly · `rest`: it has none.
 */
export type BarState = 'right' | 'slip' | 'wrong' | 'silent' | 'elsewhere' | 'beside' | 'unclear' | 'rest';

/** Something that happened to the whole; bars as they pass, from 0. */
export type PieceEvent =
  /** After `fromBar` the player went back to `bar` and played on from there. */
  | { readonly kind: 'wentBack'; readonly fromBar: number; readonly bar: number }
  /** From `fromBar` to `bar` without what lies between. */
  | { readonly kind: 'jumpedOn'; readonly fromBar: number; readonly bar: number }
  /** Nothing for so many beats from `fromBar` on; in again at `bar`. */
  | { readonly kind: 'stopped'; readonly fromBar: number; readonly bar: number; readonly beats: number }
  /** From `bar` on so many beats behind (+) or ahead of (−) the backing, to `toBar`. */
  | { readonly kind: 'beside'; readonly bar: number; readonly toBar: number; readonly beats: number }
  /** Nothing after `bar`. */
  | { readonly kind: 'ended'; readonly bar: number };
