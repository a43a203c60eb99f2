import type { Fingered } from '../../material/scales/index.ts';
import type { Mark, PlayedNote, TargetNote } from '../types.ts';

/** What the hands do on the way to a note. `turn`: the highest (or lowest) note, where the way back begins. */
export type ScalePlace =
  | { readonly kind: 'crossing'; readonly from: number; readonly to: number }
  | { readonly kind: 'shift'; readonly from: number; readonly to: number }
  | { readonly kind: 'turn' }
  | { readonly kind: 'plain' };

/** One wait: the note that came late, by how much, and what the hands did on the way to it. */
export interface Hesitation {
  /** Index into the target. */
  readonly note: number;
  /** Longer than the notes around it say. */
  readonly ms: number;
  readonly place: ScalePlace;
}

/** What is told of a scale beside its mark. Numbers are null where there is too little to tell them from. */
export interface ScaleFacts {
  /** Played tempo, crotchets a minute. */
  readonly tempoBpm: number | null;
  /** Change of tempo from the first to the last third, percent: + gets faster. */
  readonly driftPercent: number | null;
  /** Spread (robust s.d.) of onsets about an even line, ms. */
  readonly spreadMs: number | null;
  readonly hesitations: readonly Hesitation[];
  /** What one kind of place costs each time, where that stands out; the dearest first. */
  readonly habits: readonly {
    readonly place: ScalePlace;
    readonly ms: number;
    readonly times: number;
    /** Target index of the first such note. */
    readonly note: number;
  }[];
  /** How much shorter the last notes are than those before, percent; null where they are not. */
  readonly hurriedEndPercent: number | null;
  /** Long to short of swung pairs, 1 = straight; null where nothing is swung. */
  readonly swingRatio: number | null;
  /** Louder (+) than the notes beside it, dB: a note reached over a string crossing, on average. */
  readonly crossingAccentDb: number | null;
  /** Of each target note against the middle of the take, dB; null where it was not heard. */
  readonly loudnessDb: readonly (number | null)[];
  /** The one thing to say; text by `code` in the catalogue. */
  readonly advice: ScaleAdvice;
}

export type ScaleAdviceCode =
  | 'even' // nothing to say but well done
  | 'notes' // the mark's own advice comes first: wrong, missed or extra notes
  | 'wait-crossing' // from, to (strings), ms
  | 'wait-shift' // position, ms
  | 'wait-turn' // ms
  | 'wait-note' // note, ms
  | 'hurried-end' // percent
  | 'too-slow' // bpm, asked
  | 'too-fast' // bpm, asked
  | 'speeding-up' // percent
  | 'slowing-down' // percent
  | 'uneven' // ms
  | 'straight' // ratio: swung was asked
  | 'accents'; // dB

export interface ScaleAdvice {
  readonly code: ScaleAdviceCode;
  readonly values: Readonly<Record<string, number>>;
}

export interface FactsOrder {
  readonly target: readonly TargetNote[];
  readonly fingers: readonly Fingered[];
  readonly played: readonly PlayedNote[];
  readonly mark: Mark;
  /** Tempo that the target's times are written in, and the range that was asked. */
  readonly tempoBpm: number;
  readonly asked: readonly [number, number];
  readonly swung: boolean;
  /** How exactly the ear places an onset of this pitch, ms s.d.; 0 where onsets are known. */
  readonly earSpreadMs: (midi: number) => number;
}
