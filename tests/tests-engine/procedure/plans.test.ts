import { describe, expect, it } from 'vitest';
import {
  DEFAULT_SETTINGS,
  startProcedure,
  step,
  type Manner,
  type PlannedStep,
  type ProcedureCommand,
  type ProcedureEvent,
  type ProcedureState,
} from '../../../src/tests-engine/index.ts';

/** Ready to read for 90 s, then played to a click: nothing is heard before. */
const READ: readonly PlannedStep[] = [
  { does: 'prepare', named: 'read', lengthSec: 90, sheet: 'preparation', records: true },
  { does: 'play', sheet: 'performance', passes: 1, longestSec: 0, records: true },
];
/** Played from memory when ready. */
const READY_WHEN_READY: readonly PlannedStep[] = [
  { does: 'play', sheet: null, passes: 1, longestSec: 120, records: true },
];
/** A practice pass, and without a break the pass that counts. */
const TWO_PASSES: readonly PlannedStep[] = [
  { does: 'prepare', named: 'chart', lengthSec: 30, sheet: null, records: false },
  { does: 'play', sheet: 'performance', passes: 2, longestSec: 0, records: true },
];

const start = (steps: readonly PlannedStep[], manner: Manner = 'strict'): ProcedureState =>
  startProcedure({ steps, bars: 8, hearings: 1 }, { ...DEFAULT_SETTINGS, manner });

function run(from: ProcedureState, events: readonly (ProcedureEvent['type'] | ProcedureEvent)[]) {
  let state = from;
  const commands: ProcedureCommand[] = [];
  for (const given of events) {
    const playId = state.playing?.id ?? -1;
    const event = (
      typeof given === 'string'
        ? { type: given, ...(given === 'playbackEnded' ? { playId } : {}) }
        : given.type === 'markReached'
          ? { ...given, playId }
          : given
    ) as ProcedureEvent;
    const next = step(state, event);
    state = next.state;
    commands.push(...next.commands);
  }
  return { state, commands, names: commands.map((c) => (c.type === 'play' ? `play ${c.sheet}` : c.type)) };
}
const takeStart = (index: number): ProcedureEvent => ({
  type: 'markReached',
  playId: 0,
  label: 'takeStart',
  index,
});

describe('a plan without a hearing', () => {
  it('prepares to a sheet, records from there on, and goes on by a key or when the time is over', () => {
    for (const onward of ['goOn', 'practiceEnded'] as const) {
      const { state, names } = run(start(READ), ['goOn', onward]);
      expect(state.step).toBe('countIn');
      expect(names).toEqual([
        'keepAwake',
        'startRecording',
        'play preparation',
        'startPractice',
        'stopPlayback',
        'play performance',
      ]);
    }
  });
  it('the end of the sheet does not end the preparation, whose clock does', () => {
    expect(run(start(READ), ['goOn', 'playbackEnded']).state.step).toBe('practice');
  });
  it('strict prepares once: no key lengthens the time or begins it anew', () => {
    const at = run(start(READ), ['goOn']).state;
    for (const type of ['back', 'restartPractice', 'extendPractice', 'repeat', 'firstNote'] as const)
      expect(step(at, { type })).toEqual({ state: at, commands: [] });
  });
  it('relaxed begins the time anew, and slower counts as help without anything to hear again', () => {
    expect(
      run(start(READ, 'relaxed'), ['goOn', 'back']).names.filter((n) => n === 'startPractice'),
    ).toHaveLength(2);
    const { state } = run(start(READ, 'relaxed'), ['goOn', 'slower']);
    expect(state).toMatchObject({ step: 'practice', tempoFactor: 0.75, help: [{ kind: 'slower' }] });
  });
});

describe('a take that begins when the player is ready', () => {
  it('is open at once, ends by the key, and is heard', () => {
    const { state, names } = run(start(READY_WHEN_READY), ['goOn', 'goOn']);
    expect(state).toMatchObject({ step: 'listening', takes: 1, take: { status: 'played' } });
    expect(names).toEqual(['keepAwake', 'startRecording', 'openTake', 'stopRecording', 'listen']);
  });
  it('ends by itself after long silence', () => {
    expect(run(start(READY_WHEN_READY), ['goOn', 'takeEnded']).state.step).toBe('listening');
  });
  it('is void where it is given up or broken off', () => {
    expect(run(start(READY_WHEN_READY), ['goOn', 'back']).state.take).toEqual({
      status: 'void',
      reason: 'abandoned',
    });
    expect(run(start(READY_WHEN_READY), ['goOn', { type: 'problem', reason: 'hidden' }]).state.take).toEqual({
      status: 'void',
      reason: 'hidden',
    });
  });
});

describe('two passes', () => {
  const before: (ProcedureEvent['type'] | ProcedureEvent)[] = ['goOn', 'goOn', takeStart(0)];
  it('the first is practice: a problem or a key in it costs nothing', () => {
    const { state } = run(start(TWO_PASSES, 'relaxed'), before);
    expect(state).toMatchObject({ step: 'countIn', pass: 1, takes: 0 });
    for (const event of ['back', { type: 'problem', reason: 'call' }] as const)
      expect(run(state, [event]).state).toMatchObject({ step: 'practice', take: { status: 'none' } });
  });
  it('the second is the take', () => {
    const { state } = run(start(TWO_PASSES), [...before, takeStart(1)]);
    expect(state).toMatchObject({ step: 'take', pass: 2, takes: 1 });
    expect(run(state, ['playbackEnded']).state.step).toBe('listening');
    expect(run(state, ['back']).state.take.status).toBe('void');
  });
});
