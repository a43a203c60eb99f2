import type { Ask, Hear, Play, Prepare, SheetName } from './plan.ts';
import type { Help, ProcedureCommand, ProcedureState, Stepped, VoidReason } from './state.ts';

/** The moves that several steps share. Each takes the state and what was commanded before it. */
type Commands = readonly ProcedureCommand[];

export const stay = (state: ProcedureState): Stepped => ({ state, commands: [] });

function silence(state: ProcedureState, commands: Commands): Stepped {
  return state.playing
    ? { state: { ...state, playing: null }, commands: [...commands, { type: 'stopPlayback' }] }
    : { state, commands };
}

function play(state: ProcedureState, sheet: SheetName, commands: Commands): Stepped {
  const quiet = silence(state, commands);
  const id = state.nextPlayId;
  const { settings, tempoFactor, half } = state;
  const options = { tempoFactor, half, count: settings.count, repeat: state.hearings };
  return {
    state: { ...quiet.state, playing: { id, sheet }, nextPlayId: id + 1 },
    commands: [...quiet.commands, { type: 'play', playId: id, sheet, options }],
  };
}

/** Goes to a step of the plan; past the last that sounds there is nothing to go to. */
export function enter(state: ProcedureState, at: number, problem: VoidReason | null = null): Stepped {
  const planned = state.plan[at];
  if (planned === undefined || planned.does === 'ask') return stay(state);
  const begins = planned.records && !state.recording;
  const begin: Commands = [
    ...(state.at < 0 ? [{ type: 'keepAwake', on: true } as const] : []),
    ...(begins ? [{ type: 'startRecording' } as const] : []),
  ];
  const next: ProcedureState = {
    ...state,
    at,
    recording: state.recording || begins,
    phrasesBegun: 0,
    pass: 0,
    problem,
  };
  switch (planned.does) {
    case 'hear':
      return play({ ...next, step: 'hearing' }, planned.sheet, begin);
    case 'prepare':
      return prepare({ ...next, step: 'practice' }, planned, begin);
    case 'play':
      return perform(next, planned, begin);
  }
}

function prepare(state: ProcedureState, planned: Prepare, commands: Commands): Stepped {
  const sounding = planned.sheet ? play(state, planned.sheet, commands) : silence(state, commands);
  return {
    state: sounding.state,
    commands: [...sounding.commands, { type: 'startPractice', lengthSec: planned.lengthSec }],
  };
}

function perform(state: ProcedureState, planned: Play, commands: Commands): Stepped {
  if (planned.sheet) return play({ ...state, step: 'countIn' }, planned.sheet, commands);
  const quiet = silence({ ...state, step: 'take', takes: 1, pass: 1 }, commands);
  return {
    state: quiet.state,
    commands: [...quiet.commands, { type: 'openTake', longestSec: planned.longestSec }],
  };
}

/** The step of the plan it stands at, if that is of this sort. */
export const here = <D extends 'hear' | 'prepare' | 'play'>(
  { plan, at }: ProcedureState,
  does: D,
): Extract<Hear | Prepare | Play, { does: D }> | null => {
  const planned = plan[at];
  return planned?.does === does ? (planned as Extract<Hear | Prepare | Play, { does: D }>) : null;
};

/** The last hearing at or before the present step; -1 in a task that is not heard first. */
const hearingBefore = ({ plan, at }: ProcedureState): number =>
  plan.findLastIndex(({ does }, i) => does === 'hear' && i <= Math.max(0, at));

/** Sounds the hearing again, with the help that asked for it; null in a task without one. */
export function hearAgain(state: ProcedureState, help: Help): Stepped | null {
  const at = hearingBefore(state);
  return at < 0 ? null : enter({ ...state, help: [...state.help, help] }, at);
}

/** Back to the last step before the take in which nothing was lost, or to the start. */
export function beforeTake(state: ProcedureState, problem: VoidReason | null = null): Stepped {
  const at = state.plan.findLastIndex(({ does }, i) => does === 'prepare' && i < state.at);
  return at < 0 ? toReady(state, problem) : enter(state, at, problem);
}

export const soundFirstNote = (state: ProcedureState): Stepped =>
  play({ ...state, help: [...state.help, { kind: 'firstNote' }] }, 'firstNote', []);

/** Before the take everything may be broken off without cost. */
export function toReady(state: ProcedureState, problem: VoidReason | null = null): Stepped {
  const quiet = silence(state, []);
  const end: Commands = [
    ...(state.recording ? [{ type: 'stopRecording', keep: false } as const] : []),
    ...(state.at >= 0 ? [{ type: 'keepAwake', on: false } as const] : []),
  ];
  return {
    state: { ...quiet.state, step: 'ready', at: -1, recording: false, phrasesBegun: 0, pass: 0, problem },
    commands: [...quiet.commands, ...end],
  };
}

/** The take was played to its end: hear it; what asks a question asks it meanwhile. */
export function takeOver(state: ProcedureState): Stepped {
  const quiet = silence(state, []);
  return {
    state: {
      ...quiet.state,
      step: asked(state) ? 'question' : 'listening',
      takes: 1,
      take: { status: 'played' },
      recording: false,
    },
    commands: [...quiet.commands, { type: 'stopRecording', keep: true }, { type: 'listen' }],
  };
}

/** What is asked after the take; null: nothing. A half has no question: the rival is a rival of the whole. */
export const asked = ({ plan, half }: ProcedureState): Ask | null =>
  half === null ? (plan.find((planned): planned is Ask => planned.does === 'ask') ?? null) : null;

export function toVoid(state: ProcedureState, reason: VoidReason): Stepped {
  const quiet = silence(state, []);
  const end: Commands = state.recording ? [{ type: 'stopRecording', keep: false }] : [];
  return {
    state: {
      ...quiet.state,
      step: 'result',
      takes: 1,
      take: { status: 'void', reason },
      recording: false,
      heard: false,
    },
    commands: [...quiet.commands, ...end, { type: 'keepAwake', on: false }, { type: 'store' }],
  };
}

/** The result, once the take is heard and the question, if there is one, answered. */
export function whenComplete(state: ProcedureState): Stepped {
  const answered = !asked(state) || state.answer !== null;
  if (state.heard && answered)
    return {
      state: { ...state, step: 'result' },
      commands: [{ type: 'keepAwake', on: false }, { type: 'store' }],
    };
  return stay({ ...state, step: answered ? 'listening' : 'question' });
}

/** A new attempt at the same task. It is known by now, so it can only be a relaxed one. */
export function again(state: ProcedureState, help: Help = { kind: 'again' }): ProcedureState {
  return {
    ...state,
    step: 'ready',
    at: -1,
    manner: 'relaxed',
    settings: { ...state.settings, manner: 'relaxed' },
    attempt: state.attempt + 1,
    help: [help],
    takes: 0,
    take: { status: 'none' },
    phrasesBegun: 0,
    pass: 0,
    chosen: null,
    answer: null,
    heard: false,
    problem: null,
  };
}

export function leave(state: ProcedureState): Stepped {
  const awake = !['ready', 'result'].includes(state.step);
  const quiet = silence(state, []);
  return {
    state: { ...quiet.state, step: 'left', recording: false },
    commands: [
      ...quiet.commands,
      ...(state.recording ? [{ type: 'stopRecording', keep: false } as const] : []),
      ...(awake ? [{ type: 'keepAwake', on: false } as const] : []),
    ],
  };
}
