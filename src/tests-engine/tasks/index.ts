import type { HeardTake } from '../../music/notes.ts';
import type { PracticeTest } from '../../music/score.ts';
import type { AnyMark, NoteMark } from '../marks/index.ts';
import {
  parseSettings,
  startProcedure,
  type ProcedureSettings,
  type ProcedureState,
} from '../procedure/index.ts';
import { chords } from './chords/handler.ts';
import { improvising } from './improvising/index.ts';
import { piece } from './piece/index.ts';
import { reading } from './reading/index.ts';
import { melody } from './melody/index.ts';
import { rhythm } from './rhythm/index.ts';
import { scale } from './scale/index.ts';
import type { MarkOptions, Task, TaskHandler, TaskKind } from './types.ts';

export { canHalve, halfOf } from './heard/half.ts';
export {
  asSounded,
  backingSheet,
  firstNoteSheet,
  hearingSheet,
  performanceSheet,
  phraseSheet,
  wholeSheet,
} from './heard/sheets.ts';
export { FACTS_VERSION } from './improvising/index.ts';
export { makeImprovising, CHART_SEC, type ImprovisingRequest } from './improvising/make.ts';
export { parseImprovising } from './improvising/parse.ts';
export { chartOf } from './improvising/chart.ts';
export { makePieceTask, type PieceRequestOf } from './piece/make.ts';
export { markedLine, wayOf as wayOfPiece } from './piece/mark.ts';
export { beatSecOf, dueNotes, timeOfBar, timesOf } from './piece/times.ts';
export { dueStrokes } from './piece/chords.ts';
export { parsePiece } from './piece/parse.ts';
export { parseReading } from './reading/parse.ts';
export { makeReading, PREPARE_SEC, type ReadingRequest } from './reading/make.ts';
export { factsOfScale } from './scale/facts.ts';
export { drawScales, scalesOf, type ListRequest } from './scale/fromList.ts';
export { makeScale, type ScaleRequest } from './scale/make.ts';
export { parseScale } from './scale/parse.ts';
export type { ChordsAsked, MarkOptions, Task, TaskHandler, TaskKind } from './types.ts';

const HANDLERS = { melody, rhythm, reading, scale, improvising, chords, piece } satisfies Record<
  TaskKind,
  unknown
>;

/** What knows about tasks of this one's kind. */
export const handlerOf = <T extends Task>(task: T): TaskHandler<T> =>
  HANDLERS[task.kind] as unknown as TaskHandler<T>;

/** A task about to be taken. Throws RangeError on settings out of range. */
export function startTask(task: Task, settings: Partial<ProcedureSettings> = {}): ProcedureState {
  const checked = parseSettings(settings);
  return startProcedure(handlerOf(task).plan(task, checked), checked);
}

/** The mark of a take whose times count from beat 1; the task is as it was sounded. */
export function markTask(task: PracticeTest, take: HeardTake, options?: MarkOptions): NoteMark;
export function markTask(task: Task, take: HeardTake, options?: MarkOptions): AnyMark;
export function markTask(task: Task, take: HeardTake, options: MarkOptions = {}): AnyMark {
  return handlerOf(task).mark(task, take, options);
}

/** The task as an ear test: something was heard first, and a rhythm asks its question. null for any other. */
export const earTest = (task: Task): PracticeTest | null => ('question' in task ? task : null);
