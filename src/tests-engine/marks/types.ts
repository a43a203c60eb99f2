import type { HeardReason } from '../../music/notes.ts';
import type { Outcome, Thresholds } from '../../music/outcome.ts';

/** Version of the marking rule; stored with every mark. Raise it when a mark could change. */
export const MARKER_VERSION = 8;

/** `backing`: absolute time against the backing. `free`: tempo and start are the player's own. */
export type Clock = 'backing' | 'free';
/** Which transpositions of the whole take cost nothing. */
export type Transposition = 'none' | 'octave' | 'any';

export interface TargetNote {
  readonly onsetSec: number;
  readonly durationSec?: number;
  /** Absent on either side: rhythm only. May be fractional. */
  readonly midi?: number;
  /** A swung off-beat: how far players swing it varies, so its limit is wider. */
  readonly swungOffBeat?: boolean;
}
export interface PlayedNote extends TargetNote {
  /** 0…1, see `HeardNote.confidence`; absent counts as certain. */
  readonly confidence?: number;
  readonly levelDb?: number;
}

export interface MarkRequest {
  readonly target: readonly TargetNote[];
  readonly played: readonly PlayedNote[];
  readonly clock: Clock;
  readonly transposition: Transposition;
  /** Beat length of the target; estimated from the target's own onsets when absent. */
  readonly beatSec?: number;
  readonly beatsPerBar?: number;
  /** 1…10; widens the tolerances of the first levels. */
  readonly level?: number;
  /** Half-width of what is not known about the latency, ms. Infinity: not measured. */
  readonly latencyUncertaintyMs?: number;
  /** Lowest marks for "there" and "close", default 85 and 60. */
  readonly thresholds?: Thresholds;
}

export type VerdictKind = 'right' | 'wrong' | 'early' | 'late' | 'missed' | 'extra';

/** What became of one written note, or one played note that answers none. */
export interface NoteVerdict {
  readonly kind: VerdictKind;
  /** Index into the target; null for an extra note. */
  readonly targetIndex: number | null;
  /** Index into the played notes; null for a missed note. */
  readonly playedIndex: number | null;
  /** Played minus due, from where the take as a whole lies as far as that costs nothing; ms; null if missed or extra. */
  readonly errorMs: number | null;
  /** Played minus written after the allowed transposition, semitones; null where pitch does not count. */
  readonly errorSemitones: number | null;
  /** Not heard clearly enough to be held against the student. */
  readonly unclear: boolean;
  /** Right against the notes before it, though the whole passage is displaced: see the readings. */
  readonly inStep?: boolean;
  /** An extra note that is part of a passage played again. */
  readonly repeated?: boolean;
}

export type PartName = 'notes' | 'rhythm' | 'pulse' | 'continuity';

/**
 * What a musician would say of a take. Values beside each code; where one speaks of a place it also carries
 * `note` (1 = first written note) and, where the beat is known, `bar` and `beat` (both from 1).
 */
export type AdviceCode =
  | 'all-right' // nothing to say but well done
  | 'nearly' // something small in no one place
  | 'nothing-played'
  | 'wrong-note' // place, semitones (+ = too high): one wrong note
  | 'wrong-notes' // place of the first, count
  | 'many-wrong-notes' // count, of: more than half
  | 'wrong-start' // semitones: the right tune from a wrong first note
  | 'octave-off' // octaves (+ = higher): the whole take
  | 'octave-slip' // place, octaves: single notes in another octave
  | 'moved-pitch' // place, semitones: from there on everything too high or low
  | 'came-in-late' // beats (or ms): the whole take
  | 'came-in-early'
  | 'shifted-late' // place, beats (or ms): from there on
  | 'shifted-early'
  | 'stretch-late' // place, count, beats: a stretch such as one bar, then right again
  | 'stretch-early'
  | 'hesitated' // place, beats: waited, then caught up
  | 'paused' // place, beats: own tempo, waited and went on
  | 'restarted' // place where it went back to, count: played again from there
  | 'stopped' // place of the last note reached, count left out
  | 'joined-late' // place of the first note played, count left out before
  | 'left-out' // bar: a whole bar of a page
  | 'left-out-bars' // bar, toBar
  | 'missed-note' // place
  | 'missed-notes' // place of the first, count
  | 'extra-note' // place it followed
  | 'extra-notes' // count
  | 'wrong-rhythm' // count, of: the right notes, another rhythm
  | 'note-early' // place, ms
  | 'note-late'
  | 'notes-early' // place of the first, count
  | 'notes-late'
  | 'steady-late' // ms: even, but behind the beat
  | 'steady-early'
  | 'uneven' // ms
  | 'speeding-up' // percent
  | 'slowing-down'
  | 'unclear' // count: notes that were not heard clearly
  | 'wait-crossing' // place, from, to (strings), ms, times where it is a habit
  | 'wait-shift' // place, position, ms, times
  | 'wait-turn' // place, ms
  | 'wait-note' // place, ms
  | 'hurried-end' // percent
  | 'too-slow' // bpm, asked
  | 'too-fast' // bpm, asked
  | 'straight' // ratio: swung was asked
  | 'accents' // dB: louder over string crossings
  | 'bars-wrong' // bars (a list), count: bars of a piece that break
  | 'bars-wrong-many' // count, of
  | 'bars-slip' // bars, count: bars with one note that failed
  | 'went-back' // bar, toBar: after bar back to toBar, while the backing went on
  | 'jumped-on' // bar, toBar
  | 'memory-stop' // bar, toBar: silent from bar, in again at toBar
  | 'behind-backing' // bar, toBar, beats
  | 'ahead-of-backing' // bar, toBar, beats
  | 'ended-at' // bar: the last that was played
  | 'other-pitch'; // count: in a rhythm test, other notes than the written; costs nothing

/** One sentence for the student; the text stands in `ui/messages.ts` under this code. */
export interface Advice {
  readonly code: AdviceCode;
  readonly values: Readonly<Record<string, number | string>>;
}

export interface Mark {
  readonly type?: 'notes';
  readonly version: number;
  /** 0…100, one decimal at most; null where the take is not markable, with `reason`. */
  readonly mark: number | null;
  readonly reason: HeardReason | 'no-target' | 'nothing-played' | null;
  /** Where unclear notes could move the mark by more than 5: the lowest and highest it could be. */
  readonly range: readonly [number, number] | null;
  readonly outcome: Outcome | null;
  /** Points of 100 lost in each part; they add up to 100 − mark. */
  readonly lost: Readonly<Record<PartName, number>>;
  /** In order of time; extras stand where they sounded. */
  readonly verdicts: readonly NoteVerdict[];
  readonly timing: {
    /** Median of played minus due, ms, what costs nothing included: + is late. null with fewer than three matched notes. */
    readonly biasMs: number | null;
    /** Spread (robust s.d.) around the bias, ms. */
    readonly unevennessMs: number | null;
    /** Tempo change over the take in percent: + gets faster. */
    readonly driftPercent: number | null;
    /** `free`: played tempo / written tempo. */
    readonly tempoRatio: number;
  };
  /** Semitones by which the whole take was taken to be transposed. */
  readonly transposedBy: number;
  /** The reading a musician would give, most telling first. */
  readonly readings: readonly Advice[];
  readonly advice: Advice;
}
