import type { ChordSpan, Key, Metre } from './score.ts';
import type { Bpm } from './units.ts';

/** Chord names over bars, and how they are played: what somebody improvises over. */
export interface Chart {
  readonly key: Key;
  readonly metre: Metre;
  readonly bars: number;
  /** From the first bar line to the last without gaps. */
  readonly chords: readonly ChordSpan[];
  /** Backing style, a name of `tests-engine`'s own list. */
  readonly style: string;
  readonly tempoBpm: Bpm;
  /** 0.5 = straight; 2/3 = triplet swing of the quavers. */
  readonly swing: number;
}
