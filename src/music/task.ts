import type { ScaleEntry } from './scales.ts';
import type { ChordSpan, PracticeTest, WrittenNote, WrittenTask } from './score.ts';
import type { PieceBar, PiecePassage, PieceTrack, TempoMark } from './piece.ts';
import type { ChordTest } from './chords/test.ts';
import type { Sec } from './units.ts';

/** From this bar on (0 = the first) the index finger stands at `fret`; 1 is the open position. */
export interface HandPosition {
  readonly bar: number;
  readonly fret: number;
}

export type DynamicWord = 'p' | 'mp' | 'mf' | 'f';
/** What is printed beside the notes and is not judged. */
export type PageSign =
  | { readonly kind: 'dynamic'; readonly atTicks: number; readonly word: DynamicWord }
  | { readonly kind: 'louder' | 'softer'; readonly fromTicks: number; readonly toTicks: number }
  | { readonly kind: 'staccato' | 'accent' | 'tenuto'; readonly note: number };

/** What a page is written on. */
export type Shows = 'both' | 'staff' | 'tab';

/** A page of unseen music, to be prepared for a time and played once. */
export interface ReadingTask extends WrittenTask {
  readonly kind: 'reading';
  /** In order; the first at bar 0. */
  readonly positions: readonly HandPosition[];
  readonly signs: readonly PageSign[];
  readonly shows: Shows;
  readonly procedure: {
    readonly prepareSec: Sec;
    /** A click while preparing, and while playing; without one the take begins when the player is ready. */
    readonly prepareClick: boolean;
    readonly click: boolean;
  };
}

/** A scale or an arpeggio that an examiner names: played from memory, to a click or when ready. */
export interface ScaleTask extends WrittenTask {
  readonly kind: 'scale';
  readonly named: ScaleEntry;
  /** Fret of the index finger at each note of the phrase. */
  readonly hands: readonly number[];
  readonly procedure: {
    /** Counted in and played to a click; without one the take begins when the player is ready. */
    readonly click: boolean;
  };
}

/** What is improvised: a single line, or the chords of the chart. */
export type Improvises = 'line' | 'chords';

/** Chord names over bars, to be improvised over twice: once to practise, once that counts. Its phrase has bars and no notes. */
export interface ImprovisingTask extends WrittenTask {
  readonly kind: 'improvising';
  /** Backing style, a name of `tests-engine`'s own list. */
  readonly style: string;
  /** From the first bar line to the last without gaps. */
  readonly chart: readonly ChordSpan[];
  readonly plays: Improvises;
  readonly procedure: {
    readonly prepareSec: Sec;
    readonly prepareClick: boolean;
  };
}

/**
 * A piece that a player brings, played along its recorded backing. Its phrase has bars and no notes: those stand in
 * `part`, as repeats and chords fit into no phrase.
 */
export interface PieceTask extends WrittenTask {
  readonly kind: 'piece';
  readonly title: string;
  /** From tick 0 without gaps, in the order of playing. */
  readonly bars: readonly PieceBar[];
  /** In order; null where nobody gave the notes. */
  readonly part: readonly WrittenNote[] | null;
  /** Of what sounds: the first at tick 0, and there `tempoBpm`. */
  readonly tempi: readonly TempoMark[];
  readonly track: PieceTrack;
  /** The bars to be played; null: all. */
  readonly passage: PiecePassage | null;
}

/** Everything that can be asked of a player; `kind` says which handler knows about it. */
export type Task = PracticeTest | ReadingTask | ScaleTask | ImprovisingTask | ChordTest | PieceTask;
/** What asks for written notes. */
export type NotesTask = Exclude<Task, ChordTest | ImprovisingTask | PieceTask>;

/** The task as one of written notes; null for what asks for none. */
/** Of the tasks of written notes: a page to read, by what only a page has; a named scale likewise. */
export const pageOfMusic = (task: Task): ReadingTask | null => ('positions' in task ? task : null);
export const namedScale = (task: Task): ScaleTask | null => ('named' in task ? task : null);

export const written = (task: Task): NotesTask | null =>
  'phrase' in task && !('chart' in task) && !('track' in task) ? task : null;

/** The task as a chart to improvise over, or null. */
export const improvised = (task: Task): ImprovisingTask | null => ('chart' in task ? task : null);

/** The task as a piece of the player's own, or null. */
export const broughtPiece = (task: Task): PieceTask | null => ('track' in task ? task : null);
