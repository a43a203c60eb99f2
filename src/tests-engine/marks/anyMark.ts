import type { Outcome } from '../../music/outcome.ts';
import type { Mark } from './types.ts';

/** A sentence as data: the text stands in the catalogue under its code. */
export interface Fact {
  readonly code: string;
  readonly values: Readonly<Record<string, number | string>>;
}

/** What every mark says, whatever was played. */
interface Common {
  /** Of the rule that gave it. */
  readonly version: number;
  /** 0…100, or null where there is none, with `reason`. */
  readonly mark: number | null;
  readonly range: readonly [number, number] | null;
  readonly outcome: Outcome | null;
  /** What a musician would say, most telling first. */
  readonly readings: readonly Fact[];
  readonly advice: Fact;
}

/** Verdicts on notes. Marks from before there were others carry no `type`: they are of notes. */
export type NoteMark = Mark;

/** What became of one chord that was asked for, or of a strum that answers none. */
export interface ChordVerdict {
  /** `unsure`: sound cannot tell; it costs nothing. */
  readonly kind: 'yes' | 'no' | 'unsure' | 'missed' | 'extra';
  /** Index into the chords asked for; null for an extra strum. */
  readonly askedIndex: number | null;
  /** When it was struck, s from beat 1; null for a missed chord. */
  readonly atSec: number | null;
  /** Struck minus due, ms; null where no time was asked. */
  readonly errorMs: number | null;
  /** Pitch classes 0…11 that were asked for and not heard, and heard and not asked for. */
  readonly missing: readonly number[];
  readonly foreign: readonly number[];
  /** MIDI number heard as the lowest where another was asked for. */
  readonly bass: number | null;
  /** A teacher gave it; never kept in a mark: laid over it where it is shown. */
  readonly byHand?: true;
}

export interface ChordMark extends Common {
  readonly type: 'chords';
  readonly reason: Mark['reason'];
  readonly verdicts: readonly ChordVerdict[];
}

/** What was played is told in facts; no machine grades it: `mark` is null unless a teacher gave one. */
export interface Description extends Common {
  readonly type: 'described';
  readonly reason: Mark['reason'] | 'described';
  readonly facts: readonly Fact[];
}

/** Nobody but the teacher can mark it; what is known of it stands beside. `mark` is null until then. */
export interface KeptForTeacher extends Common {
  readonly type: 'teacher';
  readonly reason: Mark['reason'] | 'for-teacher';
  readonly facts: readonly Fact[];
}

export type AnyMark = NoteMark | ChordMark | Description | KeptForTeacher;

/** The mark as one of notes; null where it is of something else. */
export const ofNotes = (mark: AnyMark): NoteMark | null =>
  mark.type === undefined || mark.type === 'notes' ? mark : null;

/** How many verdicts a mark has that a teacher could change. */
export const verdictCount = (mark: AnyMark): number => ('verdicts' in mark ? mark.verdicts.length : 0);

/** Was the take heard, so that something is said of it, if not in points? */
export const wasHeard = ({ mark, reason }: AnyMark): boolean =>
  mark !== null || reason === 'described' || reason === 'for-teacher';
