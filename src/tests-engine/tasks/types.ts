import type { AskedChord } from '../../music/chords/index.ts';
import type { HeardTake } from '../../music/notes.ts';
import type { CueSheet } from '../../music/score.ts';
import type { Task } from '../../music/task.ts';
import type { Thresholds } from '../../music/outcome.ts';
import type { AnyMark } from '../marks/index.ts';
import type { Plan, PlanSettings, SheetName, SheetOptions } from '../procedure/index.ts';
import type { TakeSpan } from '../take/span.ts';

export type { Task } from '../../music/task.ts';
export type TaskKind = Task['kind'];

/** What the ear is asked where chords are. */
export interface ChordsAsked {
  /** Each chord, and when a strum may answer it. */
  readonly asked: readonly { readonly chord: AskedChord; readonly fromSec: number; readonly toSec: number }[];
  /** When strokes are due. */
  readonly expectedSec: readonly number[];
  /** Does the player play overdriven? null: not asked. */
  readonly driven: boolean | null;
  /** Strokes come as the player likes: each counts for itself, the same chord struck again too. */
  readonly free?: true;
}

export interface MarkOptions {
  /** Half-width of what is not known of the latency, ms; Infinity where it was not measured. */
  readonly latencyUncertaintyMs?: number;
  readonly thresholds?: Thresholds;
}

/**
 * What a kind of task is: its steps, what sounds in them, what of the recording is the take, and how it is
 * marked. One folder a kind; nothing outside the folders asks which kind a task is.
 */
export interface TaskHandler<T extends Task = Task> {
  readonly kind: T['kind'];
  plan(task: T, settings: PlanSettings): Plan;
  /** The task with the tempo and half of the help used: what then is sounded and marked. */
  sounded(task: T, options: SheetOptions): T;
  /** @throws RangeError for a sheet that the plan does not name */
  sheet(task: T, name: SheetName, options: SheetOptions): CueSheet;
  /** What was asked for, alone: to hear beside the take. First bar line at the sheets' lead. */
  target(task: T): CueSheet;
  /** Sheets that are rendered together, so that the backing is as loud in each; any other is rendered alone. */
  readonly together: readonly SheetName[];
  /** Which notes of a recording are the take. The task is as sounded. */
  span(task: T): TakeSpan;
  /** Where chords are asked for: what the ear is asked, seconds from beat 1. Absent or undefined: it listens for single notes. */
  chords?(task: T): ChordsAsked | undefined;
  /** Marks a take whose times count from beat 1. The task is as sounded. */
  mark(task: T, take: HeardTake, options?: MarkOptions): AnyMark;
}
