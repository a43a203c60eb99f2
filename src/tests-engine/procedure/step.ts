import type { PracticeTest } from '../../music/score.ts';
import {
  again,
  leave,
  soundFirstNote,
  stay,
  takeOver,
  toCountIn,
  toHearing,
  toPractice,
  toReady,
  toVoid,
  whenComplete,
} from './moves.ts';
import { parseSettings, SLOWEST, type ProcedureSettings } from './settings.ts';
import type { ProcedureEvent, ProcedureState, Stepped } from './state.ts';

/** A test about to be taken. Throws RangeError on settings out of range. */
export function startProcedure(
  test: PracticeTest,
  settings: Partial<ProcedureSettings> = {},
): ProcedureState {
  const checked = parseSettings(settings);
  return {
    step: 'ready',
    manner: checked.manner,
    kind: test.kind,
    bars: test.phrase.bars,
    settings: checked,
    practiceSec: checked.practiceSec ?? test.procedure.practiceSec,
    hearings: checked.hearings ?? test.procedure.hearings,
    attempt: 1,
    tempoFactor: checked.tempoFactor,
    half: null,
    help: [],
    takes: 0,
    take: { status: 'none' },
    phrasesBegun: 0,
    chosen: null,
    answer: null,
    heard: false,
    problem: null,
    recording: false,
    playing: null,
    nextPlayId: 1,
  };
}

/**
 * The procedure: a pure function. An event that has no meaning in a step (a key pressed twice, a report of a
 * playback that was stopped, help in the strict manner) changes nothing and commands nothing. In the strict manner the
 * practice window lasts as long as the settings say: neither a key nor a count broken off makes it longer.
 *
 * | step | go on | back |
 * |---|---|---|
 * | ready | hearing | – |
 * | hearing | to the practice window (strict: once the phrase has sounded whole) | relaxed: hear it again; strict: to ready, as long as no phrase has sounded |
 * | practice | count-in | relaxed: hear it again; strict: – |
 * | count-in | – | relaxed: practice window, at no cost; strict: – |
 * | take | – | gives the take up: void |
 * | listening | – | – |
 * | question | chooses B (the lower), again: answers B | chooses A (the upper), again: answers A |
 * | result | next test | again, relaxed |
 */
export function step(state: ProcedureState, event: ProcedureEvent): Stepped {
  if (event.type === 'leave') return state.step === 'left' ? stay(state) : leave(state);
  if (isStale(state, event)) return stay(state);
  switch (state.step) {
    case 'ready':
      return inReady(state, event);
    case 'hearing':
      return inHearing(state, event);
    case 'practice':
      return inPractice(state, event);
    case 'countIn':
    case 'take':
      return inPerformance(state, event);
    case 'listening':
    case 'question':
      return afterTake(state, event);
    case 'result':
      return inResult(state, event);
    case 'left':
      return stay(state);
  }
}

const isStale = (state: ProcedureState, event: ProcedureEvent): boolean =>
  (event.type === 'playbackEnded' || event.type === 'markReached') && event.playId !== state.playing?.id;

/** Repeat, slower, by halves: all sound the hearing again. null: the event is no such help, or not to be had. */
function helped(state: ProcedureState, event: ProcedureEvent): Stepped | null {
  if (state.manner === 'strict') return null;
  if (event.type === 'repeat') return toHearing(state, { kind: 'repeat' });
  if (event.type === 'slower') {
    const tempoFactor = Math.max(SLOWEST, state.tempoFactor * state.settings.slowerBy);
    if (tempoFactor === state.tempoFactor) return null;
    return toHearing({ ...state, tempoFactor }, { kind: 'slower', tempoFactor });
  }
  if (event.type === 'half') {
    if (event.half === state.half || (event.half !== null && state.bars < 2)) return null;
    return toHearing({ ...state, half: event.half }, { kind: 'half', half: event.half });
  }
  return null;
}

function inReady(state: ProcedureState, event: ProcedureEvent): Stepped {
  if (event.type === 'goOn') return toHearing(state);
  if (event.type === 'problem') return stay({ ...state, problem: event.reason });
  return stay(state);
}

function inHearing(state: ProcedureState, event: ProcedureEvent): Stepped {
  const strict = state.manner === 'strict';
  switch (event.type) {
    case 'markReached':
      return stay(event.label === 'phrase' ? { ...state, phrasesBegun: event.index + 1 } : state);
    case 'playbackEnded':
      return toPractice({ ...state, playing: null });
    case 'goOn':
      // A second press by mistake must not take the hearing away where it cannot be had again.
      return strict && state.phrasesBegun < Math.min(2, state.hearings + 1) ? stay(state) : toPractice(state);
    case 'back':
      if (!strict) return toHearing(state, { kind: 'repeat' });
      return state.phrasesBegun === 0 ? toReady(state) : stay(state);
    case 'problem':
      return toReady(state, event.reason);
    default:
      return helped(state, event) ?? stay(state);
  }
}

function inPractice(state: ProcedureState, event: ProcedureEvent): Stepped {
  const strict = state.manner === 'strict';
  switch (event.type) {
    case 'goOn':
    case 'practiceEnded':
      return toCountIn(state);
    case 'back':
      return strict ? stay(state) : toHearing(state, { kind: 'repeat' });
    case 'restartPractice':
      return strict ? stay(state) : toPractice(state);
    case 'extendPractice':
      if (strict) return stay(state);
      return { state, commands: [{ type: 'extendPractice', bySec: state.settings.extendSec }] };
    case 'firstNote':
      return strict ? stay(state) : soundFirstNote(state);
    case 'playbackEnded':
      return stay({ ...state, playing: null });
    case 'problem':
      return toPractice(state, event.reason);
    default:
      return helped(state, event) ?? stay(state);
  }
}

function inPerformance(state: ProcedureState, event: ProcedureEvent): Stepped {
  const begun = state.step === 'take';
  switch (event.type) {
    case 'markReached':
      return event.label === 'takeStart' ? stay({ ...state, step: 'take', takes: 1 }) : stay(state);
    case 'playbackEnded':
      return takeOver(state);
    case 'back':
      if (begun) return toVoid(state, 'abandoned');
      return state.manner === 'strict' ? stay(state) : toPractice(state);
    case 'problem':
      return begun ? toVoid(state, event.reason) : toPractice(state, event.reason);
    default:
      return stay(state);
  }
}

function afterTake(state: ProcedureState, event: ProcedureEvent): Stepped {
  switch (event.type) {
    case 'heard':
      return whenComplete({ ...state, heard: true });
    case 'answered':
      return state.step === 'question'
        ? whenComplete({ ...state, chosen: event.answer, answer: event.answer })
        : stay(state);
    case 'goOn':
    case 'back': {
      if (state.step !== 'question') return stay(state);
      const choice = event.type === 'goOn' ? 'B' : 'A';
      return state.chosen === choice
        ? whenComplete({ ...state, answer: choice })
        : stay({ ...state, chosen: choice });
    }
    case 'problem':
      // The take is in the box: only a listener that failed can still spoil it.
      return event.reason === 'listener-failed' && !state.heard ? toVoid(state, event.reason) : stay(state);
    default:
      return stay(state);
  }
}

function inResult(state: ProcedureState, event: ProcedureEvent): Stepped {
  switch (event.type) {
    case 'goOn':
      return { state: { ...state, step: 'left' }, commands: [{ type: 'next' }] };
    case 'back':
    case 'repeat':
      return stay(again(state));
    case 'slower':
    case 'half': {
      const fresh = again(state);
      return helped(fresh, event) ?? stay(fresh);
    }
    default:
      return stay(state);
  }
}
