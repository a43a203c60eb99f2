import type { Answer } from '../../music/question.ts';
import type { SheetMark } from '../../music/score.ts';
import type { Manner, ProcedureSettings } from './settings.ts';
import type { Half, SheetOptions } from './options.ts';
import type { PlannedStep, SheetName } from './plan.ts';

/**
 * Where a task stands. `practice`: any time of preparation; `countIn`: what sounds before the pass that
 * counts, a practice pass with it; `listening`: the take is over and is being heard.
 */
export type Step =
  'ready' | 'hearing' | 'practice' | 'countIn' | 'take' | 'listening' | 'question' | 'result' | 'left';

/** What makes a take void. Texts and remedies stand in `ui/messages.ts`. */
export type VoidReason =
  | 'hidden' // the page went into the background
  | 'call' // a call or another app took the audio
  | 'microphone-unplugged'
  | 'context-suspended'
  | 'listener-failed' // the take was recorded and could not be heard
  | 'abandoned'; // the student turned back

/** Help that was used; stored with the attempt, in order. */
export type Help =
  | { readonly kind: 'repeat' | 'firstNote' | 'again' }
  | { readonly kind: 'slower'; readonly tempoFactor: number }
  | { readonly kind: 'half'; readonly half: Half | null };

export type Take =
  | { readonly status: 'none' }
  | { readonly status: 'played' }
  | { readonly status: 'void'; readonly reason: VoidReason };

/** Plain data; one attempt at one test. */
export interface ProcedureState {
  readonly step: Step;
  readonly manner: Manner;
  /** The steps between `ready` and `listening`, in order. */
  readonly plan: readonly PlannedStep[];
  /** Which of them it stands at; -1 before the first. */
  readonly at: number;
  /** Bars of the whole phrase. */
  readonly bars: number;
  readonly settings: ProcedureSettings;
  /** Times the phrase is sounded in a hearing. */
  readonly hearings: number;
  /** Number of this attempt at the test, from 1. */
  readonly attempt: number;
  readonly tempoFactor: number;
  readonly half: Half | null;
  readonly help: readonly Help[];
  /** Takes begun in this attempt: at most 1. */
  readonly takes: number;
  readonly take: Take;
  /** Passes of the take begun: 0 while it is counted in; the last of them counts. */
  readonly pass: number;
  /** Soundings of the phrase begun in the running hearing. */
  readonly phrasesBegun: number;
  /** The question: `chosen` by key and to be confirmed by key, then `answer`. */
  readonly chosen: Answer | null;
  readonly answer: Answer | null;
  /** The listener has finished with the take. */
  readonly heard: boolean;
  /** The last problem before the take, until the step goes on; it cost nothing. */
  readonly problem: VoidReason | null;
  readonly recording: boolean;
  /** Number of the running playback, or null; reports of any other playback are stale. */
  readonly playing: { readonly id: number; readonly sheet: SheetName } | null;
  readonly nextPlayId: number;
}

export type ProcedureEvent =
  /** The two keys. */
  | { readonly type: 'goOn' }
  | { readonly type: 'back' }
  /** Reports from the sound. */
  | { readonly type: 'playbackEnded'; readonly playId: number }
  | {
      readonly type: 'markReached';
      readonly playId: number;
      readonly label: SheetMark['label'];
      readonly index: number;
    }
  /** The time of preparation has run out. */
  | { readonly type: 'practiceEnded' }
  /** A take without a sheet: the player has been silent for long, or its longest time is over. */
  | { readonly type: 'takeEnded' }
  | { readonly type: 'extendPractice' }
  | { readonly type: 'restartPractice' }
  /** Help; only the relaxed manner has it. */
  | { readonly type: 'repeat' }
  | { readonly type: 'slower' }
  | { readonly type: 'half'; readonly half: Half | null }
  | { readonly type: 'firstNote' }
  | { readonly type: 'problem'; readonly reason: Exclude<VoidReason, 'abandoned'> }
  | { readonly type: 'answered'; readonly answer: Answer }
  /** The listener has finished. */
  | { readonly type: 'heard' }
  /** Out of the test, from anywhere. */
  | { readonly type: 'leave' };

/** What the session must now do, in this order. */
export type ProcedureCommand =
  | {
      readonly type: 'play';
      readonly playId: number;
      readonly sheet: SheetName;
      readonly options: SheetOptions;
    }
  | { readonly type: 'stopPlayback' }
  /** Recording runs from the step that says so to the end of the take. */
  | { readonly type: 'startRecording' }
  /** `keep: false`: forget the samples. */
  | { readonly type: 'stopRecording'; readonly keep: boolean }
  /** Start the window's clock anew, or add to it. A screen's clock: nothing that sounds hangs on it. */
  | { readonly type: 'startPractice'; readonly lengthSec: number }
  | { readonly type: 'extendPractice'; readonly bySec: number }
  | { readonly type: 'keepAwake'; readonly on: boolean }
  /** A take without a sheet begins now; it lasts `longestSec` at most. */
  | { readonly type: 'openTake'; readonly longestSec: number }
  /** Hear the recorded take and report `heard`. */
  | { readonly type: 'listen' }
  /** The attempt is complete (or void): mark it if it is `played`, store it before it is shown. */
  | { readonly type: 'store' }
  | { readonly type: 'next' };

export interface Stepped {
  readonly state: ProcedureState;
  readonly commands: readonly ProcedureCommand[];
}
