import type { Answer } from '../../music/question.ts';
import {
  again,
  asked,
  beforeTake,
  enter,
  hearAgain,
  here,
  leave,
  soundFirstNote,
  stay,
  takeOver,
  toReady,
  toVoid,
  whenComplete,
} from './moves.ts';
import type { Plan } from './plan.ts';
import { SLOWEST, type ProcedureSettings } from './settings.ts';
import type { ProcedureEvent, ProcedureState, Stepped } from './state.ts';

/** A task about to be taken. */
export function startProcedure(plan: Plan, settings: ProcedureSettings): ProcedureState {
  return {
    step: 'ready',
    manner: settings.manner,
    plan: plan.steps,
    at: -1,
    bars: plan.bars,
    settings,
    hearings: plan.hearings,
    attempt: 1,
    tempoFactor: settings.tempoFactor,
    half: null,
    help: [],
    takes: 0,
    take: { status: 'none' },
    pass: 0,
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
 * playback that was stopped, help in the strict manner) changes nothing and commands nothing. Which steps
 * there are, and in which order, is the plan's; what the two keys do in each is said here once for all tasks.
 * In the strict manner a preparation lasts as long as the settings say: neither a key nor a count broken off
 * makes it longer.
 *
 * | step | go on | back |
 * |---|---|---|
 * | ready | first step | – |
 * | hearing | next step (strict: once the phrase has sounded whole) | relaxed: hear it again; strict: to ready, as long as no phrase has sounded |
 * | practice | next step | relaxed: hear it again, where it was heard, else the time from its start; strict: – |
 * | count-in, practice pass | – | relaxed: the preparation, at no cost; strict: – |
 * | take | without a sheet: the take is over | gives the take up: void |
 * | listening | – | – |
 * | question, which | chooses B (the lower), again: answers B | chooses A (the upper), again: answers A |
 * | question, beat | chooses the next beat, after the last the first | answers the beat chosen |
 * | result | next task | again, relaxed |
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

const onward = (state: ProcedureState): Stepped => enter(state, state.at + 1);

/**
 * Repeat, slower, by halves: all sound the hearing again, where there is one, or else change what comes. null: the
 * event is no such help, or not to be had.
 */
function helped(state: ProcedureState, event: ProcedureEvent): Stepped | null {
  if (state.manner === 'strict') return null;
  if (event.type === 'repeat') return hearAgain(state, { kind: 'repeat' });
  if (event.type === 'slower') {
    const tempoFactor = Math.max(SLOWEST, state.tempoFactor * state.settings.slowerBy);
    if (tempoFactor === state.tempoFactor) return null;
    return changed({ ...state, tempoFactor }, { kind: 'slower', tempoFactor });
  }
  if (event.type === 'half') {
    if (event.half === state.half || (event.half !== null && state.bars < 2)) return null;
    return changed({ ...state, half: event.half }, { kind: 'half', half: event.half });
  }
  return null;
}

const changed = (state: ProcedureState, help: Parameters<typeof hearAgain>[1]): Stepped =>
  hearAgain(state, help) ?? enter({ ...state, help: [...state.help, help] }, Math.max(0, state.at));

function inReady(state: ProcedureState, event: ProcedureEvent): Stepped {
  if (event.type === 'goOn') return enter(state, 0);
  if (event.type === 'problem') return stay({ ...state, problem: event.reason });
  return stay(state);
}

function inHearing(state: ProcedureState, event: ProcedureEvent): Stepped {
  const strict = state.manner === 'strict';
  switch (event.type) {
    case 'markReached':
      return stay(event.label === 'phrase' ? { ...state, phrasesBegun: event.index + 1 } : state);
    case 'playbackEnded':
      return onward({ ...state, playing: null });
    case 'goOn': {
      // A second press by mistake must not take the hearing away where it cannot be had again.
      const { phrases = 1 } = here(state, 'hear') ?? {};
      return strict && state.phrasesBegun < Math.min(2, phrases + 1) ? stay(state) : onward(state);
    }
    case 'back':
      if (!strict) return hearAgain(state, { kind: 'repeat' }) ?? stay(state);
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
      return onward(state);
    case 'back':
      if (strict) return stay(state);
      return hearAgain(state, { kind: 'repeat' }) ?? enter(state, state.at);
    case 'restartPractice':
      return strict ? stay(state) : enter(state, state.at);
    case 'extendPractice':
      if (strict) return stay(state);
      return { state, commands: [{ type: 'extendPractice', bySec: state.settings.extendSec }] };
    case 'firstNote':
      return strict ? stay(state) : soundFirstNote(state);
    case 'playbackEnded':
      return stay({ ...state, playing: null });
    case 'problem':
      return enter(state, state.at, event.reason);
    default:
      return helped(state, event) ?? stay(state);
  }
}

function inPerformance(state: ProcedureState, event: ProcedureEvent): Stepped {
  const begun = state.step === 'take';
  const planned = here(state, 'play');
  switch (event.type) {
    case 'markReached': {
      if (event.label !== 'takeStart') return stay(state);
      const pass = event.index + 1;
      return stay(
        pass < (planned?.passes ?? 1) ? { ...state, pass } : { ...state, pass, step: 'take', takes: 1 },
      );
    }
    case 'playbackEnded':
      return takeOver({ ...state, playing: null });
    case 'goOn':
    case 'takeEnded':
      return begun && planned?.sheet === null ? takeOver(state) : stay(state);
    case 'back':
      if (begun) return toVoid(state, 'abandoned');
      return state.manner === 'strict' ? stay(state) : beforeTake(state);
    case 'problem':
      return begun ? toVoid(state, event.reason) : beforeTake(state, event.reason);
    default:
      return stay(state);
  }
}

function afterTake(state: ProcedureState, event: ProcedureEvent): Stepped {
  switch (event.type) {
    case 'heard':
      return whenComplete({ ...state, heard: true });
    case 'answered':
      return state.step === 'question' && fits(state, event.answer)
        ? whenComplete({ ...state, chosen: event.answer, answer: event.answer })
        : stay(state);
    case 'goOn':
    case 'back':
      return state.step === 'question' ? byKey(state, event.type) : stay(state);
    case 'problem':
      // The take is in the box: only a listener that failed can still spoil it.
      return event.reason === 'listener-failed' && !state.heard ? toVoid(state, event.reason) : stay(state);
    default:
      return stay(state);
  }
}

/** An answer that the question asked for. */
function fits(state: ProcedureState, answer: Answer): boolean {
  const ask = asked(state);
  if (!ask) return false;
  if (typeof answer === 'string') return ask.form === 'which';
  return answer.form === ask.form && answer.beat >= 0 && answer.beat < ask.beats;
}

/** Two letters have a key each, pressed twice; beats are gone through with one and answered with the other. */
function byKey(state: ProcedureState, key: 'goOn' | 'back'): Stepped {
  const { chosen } = state;
  const ask = asked(state);
  if (!ask) return stay(state);
  if (ask.form === 'which') {
    const choice = key === 'goOn' ? 'B' : 'A';
    return chosen === choice
      ? whenComplete({ ...state, answer: choice })
      : stay({ ...state, chosen: choice });
  }
  if (key === 'back') return chosen === null ? stay(state) : whenComplete({ ...state, answer: chosen });
  const before = chosen === null || typeof chosen === 'string' ? -1 : chosen.beat;
  return stay({ ...state, chosen: { form: ask.form, beat: (before + 1) % ask.beats } });
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
