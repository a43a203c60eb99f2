import type { QuestionForm } from '../../music/question.ts';
import type { ProcedureSettings } from './settings.ts';

/** Which of a task's sheets sounds. */
export type SheetName = 'hearing' | 'preparation' | 'performance' | 'firstNote';

interface Planned {
  /** Recording runs from this step to the end of the take, so that the room can be learnt before it. */
  readonly records: boolean;
}

/** The player listens; ends with the sheet. */
export interface Hear extends Planned {
  readonly does: 'hear';
  readonly sheet: SheetName;
  /** How often the sheet sounds the phrase: strict does not let a hearing be skipped before the second began. */
  readonly phrases: number;
}

/** A time to get ready in, in silence or with a sheet such as a click; may be ended early, and be longer with help. */
export interface Prepare extends Planned {
  readonly does: 'prepare';
  /** What the step is called on screen: a word of the catalogue. */
  readonly named: 'practice' | 'read' | 'recall' | 'chart';
  readonly lengthSec: number;
  readonly sheet: SheetName | null;
}

/**
 * The take. With a sheet it is counted in and ends with the sheet, after `passes` passes of which the last
 * counts; without one it begins at once and ends when the player goes on, or has been silent for long.
 */
export interface Play extends Planned {
  readonly does: 'play';
  readonly sheet: SheetName | null;
  readonly passes: number;
  /** The longest a take without a sheet may last, s. */
  readonly longestSec: number;
}

/** A question while the take is heard: one of two letters, or one of the phrase's beats. */
export interface Ask extends Planned {
  readonly does: 'ask';
  readonly form: QuestionForm;
  /** Beats to choose from. */
  readonly beats: number;
}

export type PlannedStep = Hear | Prepare | Play | Ask;

/** What a task's procedure is made of; data, so that a new kind of task adds no rule. */
export interface Plan {
  readonly steps: readonly PlannedStep[];
  /** Bars of the whole: only two and more can be taken by halves. */
  readonly bars: number;
  /** Times the phrase is sounded in a hearing; 1 where there is none. */
  readonly hearings: number;
}

/** What a plan may be made from beside the task itself. */
export type PlanSettings = Pick<ProcedureSettings, 'manner' | 'hearings' | 'practiceSec' | 'question'>;
