import type { Help, ProcedureCommand, ProcedureState, SheetName, Stepped, VoidReason } from './state.ts';

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
  const options = {
    tempoFactor,
    half,
    count: settings.count,
    repeat: state.hearings,
  };
  return {
    state: { ...quiet.state, playing: { id, sheet }, nextPlayId: id + 1 },
    commands: [...quiet.commands, { type: 'play', playId: id, sheet, options }],
  };
}

export function toHearing(state: ProcedureState, help?: Help): Stepped {
  const begin: Commands = state.recording
    ? []
    : [{ type: 'keepAwake', on: true }, { type: 'startRecording' }];
  const next: ProcedureState = {
    ...state,
    step: 'hearing',
    recording: true,
    phrasesBegun: 0,
    problem: null,
    help: help ? [...state.help, help] : state.help,
  };
  return play(next, 'hearing', begin);
}

export function toPractice(state: ProcedureState, problem: VoidReason | null = null): Stepped {
  const quiet = silence(state, []);
  return {
    state: { ...quiet.state, step: 'practice', problem },
    commands: [...quiet.commands, { type: 'startPractice', lengthSec: state.practiceSec }],
  };
}

export const toCountIn = (state: ProcedureState): Stepped =>
  play({ ...state, step: 'countIn', problem: null }, 'performance', []);

export const soundFirstNote = (state: ProcedureState): Stepped =>
  play({ ...state, help: [...state.help, { kind: 'firstNote' }] }, 'firstNote', []);

/** Before the take everything may be broken off without cost. */
export function toReady(state: ProcedureState, problem: VoidReason | null = null): Stepped {
  const quiet = silence(state, []);
  const end: Commands = state.recording
    ? [
        { type: 'stopRecording', keep: false },
        { type: 'keepAwake', on: false },
      ]
    : [];
  return {
    state: { ...quiet.state, step: 'ready', recording: false, phrasesBegun: 0, problem },
    commands: [...quiet.commands, ...end],
  };
}

/** The take was played to its end: hear it; a rhythm asks its question meanwhile. */
export function takeOver(state: ProcedureState): Stepped {
  return {
    state: {
      ...state,
      step: asks(state) ? 'question' : 'listening',
      takes: 1,
      take: { status: 'played' },
      playing: null,
      recording: false,
    },
    commands: [{ type: 'stopRecording', keep: true }, { type: 'listen' }],
  };
}

/** Half a rhythm has no question: its rival is a rival of the whole. */
const asks = (state: ProcedureState) => state.kind === 'rhythm' && state.half === null;

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
  const answered = !asks(state) || state.answer !== null;
  if (state.heard && answered)
    return {
      state: { ...state, step: 'result' },
      commands: [{ type: 'keepAwake', on: false }, { type: 'store' }],
    };
  return stay({ ...state, step: answered ? 'listening' : 'question' });
}

/** A new attempt at the same test. The phrase is known by now, so it can only be a relaxed one. */
export function again(state: ProcedureState, help: Help = { kind: 'again' }): ProcedureState {
  return {
    ...state,
    step: 'ready',
    manner: 'relaxed',
    settings: { ...state.settings, manner: 'relaxed' },
    attempt: state.attempt + 1,
    help: [help],
    takes: 0,
    take: { status: 'none' },
    phrasesBegun: 0,
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
