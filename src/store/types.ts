import type { HeardTake } from '../music/notes.ts';
import type { Answer, QuestionSet } from '../music/question.ts';
import type { Instrument } from '../music/score.ts';
import type { Thresholds } from '../music/outcome.ts';
import type { SittingRun, SittingSetup } from '../music/sitting.ts';
import type { Task } from '../music/task.ts';
import type { AnyMark, ChordVerdict, VerdictKind } from '../tests-engine/index.ts';

/**
 * What is kept, all of it plain JSON. Every id is 128 random bits (`ids.ts`), so records made on
 * machines that never met can be merged. Attempts and overrides are never changed once written; what
 * may change (names, notes, settings) is compared on import and never overwritten silently.
 */

export type { Thresholds } from '../music/outcome.ts';

/** Strict: the true procedure, one take. Relaxed: with help. The two are never mixed in progress. */
export type Manner = 'strict' | 'relaxed';
/** Help taken in the relaxed manner before the take that is marked. */
export type Help = 'repeat' | 'slower' | 'halves' | 'first-note' | 'live-note';

export interface Student {
  readonly id: string;
  /** Name or initials, as the teacher types them; 1…60 characters. Never leaves by link. */
  readonly name: string;
  readonly instrument: Instrument;
  /** Name of a tuning of the instrument; null: its usual one. */
  readonly tuningId: string | null;
  /** The level and manner they usually play; null: whatever was chosen last. */
  readonly level: number | null;
  readonly manner: Manner | null;
  /** Day of the lesson, 0 = Monday … 6 = Sunday. */
  readonly lessonDay: number | null;
  /** Group or class; empty: none. At most 60 characters. */
  readonly group: string;
  /** Day of the exam, "2026-11-28". */
  readonly examOn: string | null;
  /** For the teacher alone; may be empty, at most 2,000 characters. */
  readonly remark: string;
  readonly createdAtMs: number;
  /** Lowest marks for "there" and "close" that hold for this student; null: those of the desk. */
  readonly thresholds: Thresholds | null;
}

/** What a teacher may change of a student. */
export type StudentCard = Omit<Student, 'id' | 'createdAtMs'>;

/** How a round trip became known: by the bleed, an earcup at the microphone, four notes, or the browser's own word. */
export type LatencySource = 'loudspeaker' | 'earcup' | 'notes' | 'reported';

/** The round trip of sound, as known for the session; null in an attempt where it was not. */
export interface MeasuredLatency {
  readonly ms: number;
  /** Half-width of what is not known, ms. */
  readonly uncertaintyMs: number;
  /** Missing in attempts older than this field. */
  readonly source?: LatencySource;
}

/** One take of one test: all that a mark can be computed from, and the mark as it was given. */
export interface Attempt {
  readonly id: string;
  readonly studentId: string;
  readonly homeworkId: string | null;
  /** Device clock when the take ended, ms since 1970 UTC. For showing; a clock may be set back. */
  readonly atMs: number;
  /** Strictly rising on one device whatever its clock does (`order.ts`); sorts attempts. */
  readonly order: number;
  readonly test: Task;
  readonly manner: Manner;
  /** How often each was used; what was not used is left out. */
  readonly help: Readonly<Partial<Record<Help, number>>>;
  readonly take: HeardTake;
  /** When beat 1 of bar 1 fell on the take's clock, latency taken off; with `take` and `test` it gives the mark. */
  readonly zeroSec: number;
  readonly latency: MeasuredLatency | null;
  readonly listenerVersion: number;
  /** As given then, with the marker's version in `mark.version`. A newer marker's is shown beside it. */
  readonly mark: AnyMark;
  /** Lowest marks for "there" and "close" that were in force. */
  readonly thresholds: Thresholds;
  /** Rhythm tests: which rhythm the student said it was, or at which beat; null when not asked or not answered. */
  readonly answer: Answer | null;
  /** A wrong answer holds the outcome back; missing where it does not, and in attempts from before it could. */
  readonly answerCounts?: true;
}

/** A teacher's second opinion. Kept beside the original; the newest by `order` counts. */
export interface Override {
  readonly id: string;
  readonly attemptId: string;
  readonly studentId: string;
  readonly atMs: number;
  readonly order: number;
  /** `index` into the attempt's `mark.verdicts`; the kind is one of its kinds. */
  readonly verdicts: readonly { readonly index: number; readonly kind: VerdictKind | ChordVerdict['kind'] }[];
  /** 0…100, or null to leave the machine's. */
  readonly mark: number | null;
  /** May be empty; at most 2,000 characters. */
  readonly remark: string;
  /** The teacher's own lines, three to six, as they were filled in; missing where none was. */
  readonly rubric?: readonly RubricLine[];
}

/** One line of a teacher's own marking: their words, and a number from 0 to 10 or a word of theirs; null: left empty. */
export interface RubricLine {
  readonly text: string;
  readonly value: number | string | null;
}

export interface LessonNote {
  readonly id: string;
  readonly studentId: string;
  readonly atMs: number;
  readonly text: string;
}

/** Exactly these tests, to be done at home. */
export interface Homework {
  readonly id: string;
  /** Whose it is, on this machine; never in the link. */
  readonly studentId: string;
  readonly createdAtMs: number;
  readonly manner: Manner;
  /** Day it is to be done by, "2026-11-28"; null: none. */
  readonly dueOn: string | null;
  /** A line from the teacher; may be empty, at most 200 characters. */
  readonly text: string;
  readonly tests: readonly Task[];
  /** A whole sitting to be sat, under the homework's own id; missing where none is. */
  readonly sitting?: SittingSetup;
  /** What counted as there and as close when it was set; null in homework from before that was written down. */
  readonly thresholds: Thresholds | null;
  /** How its rhythms are asked about; missing where it has none, and in homework from before that was written down. */
  readonly question?: QuestionSet;
}

/** A human mark given without seeing the machine's. */
export interface BlindMark {
  readonly id: string;
  readonly attemptId: string;
  readonly studentId: string;
  /** Who marked: initials or a pseudonym, 1…60 characters. */
  readonly rater: string;
  readonly value: number;
  readonly atMs: number;
}

/** A sitting that is over; what was played in it stands in `attempts`. The examiner's own marks may still be added. */
export interface KeptSitting {
  readonly id: string;
  readonly studentId: string;
  /** Device clock when it was over, ms since 1970 UTC. */
  readonly atMs: number;
  readonly run: SittingRun;
}

/** One setting of the app; keys and values belong to `ui`, which checks them when it reads. */
export interface Setting {
  readonly key: string;
  readonly value: Json;
}
export type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json };

/** A take whose test has begun and has no attempt yet; found at the next start, it was lost. */
export interface Draft {
  readonly id: string;
  readonly studentId: string;
  readonly homeworkId: string | null;
  readonly startedAtMs: number;
  readonly test: Task;
  readonly manner: Manner;
  /** Random id of the tab that began it: a draft of a tab still open is not lost. */
  readonly tab: string;
}

/** A take's sound, lossy and for listening only: no mark is ever computed from it. */
export interface SavedAudio {
  readonly attemptId: string;
  readonly studentId: string;
  readonly order: number;
  /** What the encoder says it is, e.g. "audio/webm;codecs=opus". */
  readonly mime: string;
  readonly bytes: Uint8Array<ArrayBuffer>;
}

/** The recording of a piece as its file's bytes. It is of this machine: no backup and no link holds it. */
export interface KeptTrack {
  /** As `PieceTrack.id`. */
  readonly id: string;
  readonly name: string;
  readonly bytes: Uint8Array<ArrayBuffer>;
}

/** Why an attempt that came in as homework is shown but not counted. */
export type Doubt =
  | 'not-set' // the test is none of this homework's
  | 'other-mark'; // the present rule, to which the mark lays claim, gives another from these notes

/** An imported record that differs from the one here under the same id. Both are kept. */
export interface Conflict {
  /** Made from the contents, so that the same file twice gives one conflict. */
  readonly id: string;
  readonly table: MergedTable;
  readonly key: string;
  readonly studentId: string | null;
  readonly theirs: Json;
  /** What it came with; missing in conflicts older than this field. */
  readonly origin?: 'file' | 'results' | 'studio';
}

/** Everything but audio, as exported. */
export interface Records {
  readonly students: readonly Student[];
  readonly attempts: readonly Attempt[];
  readonly overrides: readonly Override[];
  readonly lessonNotes: readonly LessonNote[];
  readonly homework: readonly Homework[];
  readonly blindMarks: readonly BlindMark[];
  readonly settings: readonly Setting[];
  readonly sittings: readonly KeptSitting[];
}
export type MergedTable = keyof Records;
