import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  startTask,
  step,
  type ProcedureCommand,
  type ProcedureEvent,
  type ProcedureState,
} from '../../../src/tests-engine/index.ts';
import { plain, plainRhythm } from './some-tests.ts';

type Loose =
  | ProcedureEvent
  | { type: 'ended' }
  | { type: 'reached'; label: 'phrase' | 'takeStart' | 'takeEnd'; index: number };

/** `ended` and `reached` speak of whatever is playing now. */
function meant(state: ProcedureState, event: Loose): ProcedureEvent {
  const playId = state.playing?.id ?? -1;
  if (event.type === 'ended') return { type: 'playbackEnded', playId };
  if (event.type === 'reached')
    return { type: 'markReached', playId, label: event.label, index: event.index };
  return event;
}

function run(start: ProcedureState, events: readonly Loose[]) {
  let state = start;
  const commands: ProcedureCommand[] = [];
  const trail = [start];
  for (const event of events) {
    const next = step(state, meant(state, event));
    state = next.state;
    commands.push(...next.commands);
    trail.push(state);
  }
  return { state, commands, trail };
}

const strict = (test = plain) => startTask(test, { manner: 'strict' });
const relaxed = (test = plain) => startTask(test, { manner: 'relaxed' });
const go: Loose = { type: 'goOn' };
const back: Loose = { type: 'back' };
const ended: Loose = { type: 'ended' };
const takeStart: Loose = { type: 'reached', label: 'takeStart', index: 0 };
const phrase = (index: number): Loose => ({ type: 'reached', label: 'phrase', index });
const wholeTake: Loose[] = [go, phrase(0), phrase(1), ended, go, takeStart, ended];

describe('the way through a test', () => {
  it('melody: ready, hearing, practice, count-in, take, listening, result, next', () => {
    const { trail, commands } = run(strict(), [...wholeTake, { type: 'heard' }, go]);
    expect(trail.map((s) => s.step)).toEqual([
      'ready',
      'hearing',
      'hearing',
      'hearing',
      'practice',
      'countIn',
      'take',
      'listening',
      'result',
      'left',
    ]);
    expect(commands.map((c) => (c.type === 'play' ? `play ${c.sheet}` : c.type))).toEqual([
      'keepAwake',
      'startRecording',
      'play hearing',
      'startPractice',
      'play performance',
      'stopRecording',
      'listen',
      'keepAwake',
      'store',
      'next',
    ]);
  });
  it('rhythm: the question comes while the take is heard, and each key answers when pressed twice', () => {
    const asked = run(strict(plainRhythm), wholeTake).state;
    expect(asked.step).toBe('question');
    expect(run(asked, [go]).state).toMatchObject({ step: 'question', chosen: 'B', answer: null });
    expect(run(asked, [go, back, back, { type: 'heard' }]).state).toMatchObject({
      step: 'result',
      answer: 'A',
    });
    expect(run(asked, [{ type: 'heard' }, go, go]).state).toMatchObject({ step: 'result', answer: 'B' });
    expect(run(asked, [{ type: 'answered', answer: 'B' }]).state).toMatchObject({
      step: 'listening',
      answer: 'B',
    });
    expect(run(asked, [{ type: 'heard' }]).state.step).toBe('question');
  });
  it.each(['beat', 'part'] as const)(
    'rhythm with help, %s: one key goes through the beats and round again, the other answers',
    (form) => {
      const asked = run(startTask(plainRhythm, { manner: 'relaxed', question: form }), wholeTake).state;
      expect(asked.step).toBe('question');
      expect(run(asked, [back]).state).toMatchObject({ chosen: null, answer: null });
      expect(run(asked, [go, go, go]).state.chosen).toEqual({ form, beat: 2 });
      expect(run(asked, Array(9).fill(go)).state.chosen).toEqual({ form, beat: 0 });
      expect(run(asked, [go, go, back]).state).toMatchObject({
        step: 'listening',
        answer: { form, beat: 1 },
      });
      expect(run(asked, [{ type: 'heard' }, go, back]).state).toMatchObject({ step: 'result' });
      // What was not asked, or is no beat of it, is no answer.
      for (const answer of [
        'A',
        { form, beat: 8 },
        { form: form === 'beat' ? 'part' : 'beat', beat: 0 },
      ] as const)
        expect(run(asked, [{ type: 'answered', answer }]).state.answer).toBeNull();
      expect(run(asked, [{ type: 'answered', answer: { form, beat: 7 } }]).state.answer).toEqual({
        form,
        beat: 7,
      });
    },
  );
  it('strict asks which of two and nothing else', () => {
    expect(() => startTask(plainRhythm, { manner: 'strict', question: 'part' })).toThrow(
      new RangeError('the strict manner asks which of two, got question "part"'),
    );
    const letters = run(strict(plainRhythm), wholeTake).state;
    expect(run(letters, [{ type: 'answered', answer: { form: 'beat', beat: 0 } }]).state.answer).toBeNull();
  });
  it('needs two keys alone from the first screen to the next test', () => {
    const { state } = run(strict(), [go, ended, go, takeStart, ended, { type: 'heard' }, go]);
    expect(state.step).toBe('left');
  });
  it('the practice window that runs out counts in by itself', () => {
    const { state } = run(strict(), [go, ended, { type: 'practiceEnded' }]);
    expect(state.step).toBe('countIn');
  });
});

describe('what costs nothing', () => {
  it('skipping, extending and restarting the practice window, and breaking the count off', () => {
    const windowed = run(relaxed(), [
      go,
      ended,
      { type: 'extendPractice' },
      { type: 'restartPractice' },
      go,
      back,
      go,
      back,
      go,
    ]);
    expect(windowed.state).toMatchObject({ step: 'countIn', takes: 0, help: [], take: { status: 'none' } });
    expect(windowed.commands).toContainEqual({ type: 'extendPractice', bySec: 15 });
    expect(windowed.commands.filter((c) => c.type === 'startPractice')).toHaveLength(4);
  });
  it('a problem before the take', () => {
    const hidden: Loose = { type: 'problem', reason: 'hidden' };
    expect(run(strict(), [go, hidden]).state).toMatchObject({
      step: 'ready',
      problem: 'hidden',
      recording: false,
    });
    expect(run(strict(), [go, ended, hidden]).state).toMatchObject({ step: 'practice', takes: 0 });
    expect(run(strict(), [go, ended, go, hidden]).state).toMatchObject({ step: 'practice', takes: 0 });
  });
});

describe('a playback that was stopped', () => {
  it('reports into the void: its end and its marks change nothing', () => {
    const at = run(relaxed(), [go, ended, { type: 'firstNote' }, go]).state;
    expect(at).toMatchObject({ step: 'countIn', playing: { id: 3, sheet: 'performance' } });
    for (const stale of [1, 2])
      expect(step(at, { type: 'playbackEnded', playId: stale })).toEqual({ state: at, commands: [] });
    expect(step(at, { type: 'markReached', playId: 2, label: 'takeStart', index: 0 }).state).toBe(at);
    expect(step(at, { type: 'markReached', playId: 3, label: 'takeStart', index: 0 }).state.step).toBe(
      'take',
    );
  });
});

describe('a spoiled take', () => {
  it.each(['hidden', 'call', 'microphone-unplugged', 'context-suspended'] as const)(
    '%s in the take: void, said why, stored, not heard',
    (reason) => {
      const { state, commands } = run(strict(), [go, ended, go, takeStart, { type: 'problem', reason }]);
      expect(state).toMatchObject({ step: 'result', take: { status: 'void', reason } });
      expect(commands).toContainEqual({ type: 'stopRecording', keep: false });
      expect(commands.some((c) => c.type === 'listen')).toBe(false);
      expect(commands.at(-1)).toEqual({ type: 'store' });
    },
  );
  it('is not spoiled by what happens once it is over', () => {
    const { state } = run(strict(), [...wholeTake, { type: 'problem', reason: 'hidden' }, { type: 'heard' }]);
    expect(state).toMatchObject({ step: 'result', take: { status: 'played' } });
  });
  it('a listener that fails voids it too', () => {
    const { state } = run(strict(), [...wholeTake, { type: 'problem', reason: 'listener-failed' }]);
    expect(state.take).toEqual({ status: 'void', reason: 'listener-failed' });
  });
});

describe('the manners', () => {
  it('strict refuses every help', () => {
    const helps: Loose[] = [
      { type: 'repeat' },
      { type: 'slower' },
      { type: 'half', half: 'first' },
      { type: 'firstNote' },
    ];
    for (const help of helps)
      for (const before of [[go], [go, ended], [go, ended, go]] as Loose[][]) {
        const at = run(strict(), before).state;
        expect(step(at, meant(at, help))).toEqual({ state: at, commands: [] });
      }
  });
  it('strict gives no more time to find the phrase than the settings say, whatever is pressed', () => {
    for (const before of [
      [go, ended],
      [go, ended, go],
    ] as Loose[][])
      for (const more of [{ type: 'extendPractice' }, { type: 'restartPractice' }, back] as Loose[]) {
        const at = run(strict(), before).state;
        expect(step(at, meant(at, more)), `${at.step} ${more.type}`).toEqual({ state: at, commands: [] });
      }
  });
  it('strict does not skip a hearing by a key pressed twice, nor restart it once the phrase has begun', () => {
    expect(run(strict(), [go, go]).state.step).toBe('hearing');
    expect(run(strict(), [go, phrase(0), go]).state.step).toBe('hearing');
    expect(run(strict(), [go, phrase(0), phrase(1), go]).state.step).toBe('practice');
    expect(run(strict(), [go, back]).state.step).toBe('ready');
    const begun = run(strict(), [go, phrase(0)]).state;
    expect(step(begun, { type: 'back' }).commands).toEqual([]);
  });
  it('relaxed gives help and remembers it in order', () => {
    const { state, commands } = run(relaxed(), [
      go,
      ended,
      { type: 'firstNote' },
      ended,
      { type: 'repeat' },
      ended,
      { type: 'slower' },
      ended,
      { type: 'half', half: 'second' },
      ended,
      go,
    ]);
    expect(state.help).toEqual([
      { kind: 'firstNote' },
      { kind: 'repeat' },
      { kind: 'slower', tempoFactor: 0.75 },
      { kind: 'half', half: 'second' },
    ]);
    expect(commands.at(-1)).toMatchObject({
      type: 'play',
      sheet: 'performance',
      options: { tempoFactor: 0.75, half: 'second' },
    });
  });
  it('half a rhythm asks no question', () => {
    const { state } = run(relaxed(plainRhythm), [
      go,
      { type: 'half', half: 'first' },
      ended,
      go,
      takeStart,
      ended,
    ]);
    expect(state.step).toBe('listening');
  });
  it('again after a strict take is a new, relaxed attempt', () => {
    const { state } = run(strict(), [...wholeTake, { type: 'heard' }, back]);
    expect(state).toMatchObject({
      step: 'ready',
      manner: 'relaxed',
      attempt: 2,
      takes: 0,
      help: [{ kind: 'again' }],
      take: { status: 'none' },
    });
  });
});

describe('settings', () => {
  it.each([
    [{ hearings: 0 }, /hearings must lie between 1 and 10, got 0/],
    [{ hearings: 1.5 }, /hearings must be a whole number, got 1.5/],
    [{ practiceSec: Number.NaN }, /practiceSec/],
    [{ practiceSec: 601 }, /between 0 and 600, got 601/],
    [{ manner: 'lenient' }, /manner/],
    [{ colour: 'blue' }, /colour/],
    [{ manner: 'strict', tempoFactor: 0.5 }, /strict manner keeps the test’s own tempo/],
  ])('%j are refused', (settings, message) => {
    expect(() => startTask(plain, settings as any)).toThrow(RangeError);
    expect(() => startTask(plain, settings as any)).toThrow(message);
  });
  it('set counts and lengths', () => {
    const { commands } = run(startTask(plain, { hearings: 3, practiceSec: 5, count: 'click' }), [go, ended]);
    expect(commands).toContainEqual({ type: 'startPractice', lengthSec: 5 });
    expect(commands[2]).toMatchObject({ options: { repeat: 3, count: 'click' } });
  });
});

const anyEvent: fc.Arbitrary<Loose> = fc.oneof(
  { weight: 4, arbitrary: fc.constant(go) },
  { weight: 4, arbitrary: fc.constant(ended) },
  { weight: 3, arbitrary: fc.constantFrom<Loose>(takeStart, phrase(0), phrase(1)) },
  { weight: 2, arbitrary: fc.constantFrom<Loose>(back, { type: 'heard' }, { type: 'practiceEnded' }) },
  {
    weight: 2,
    arbitrary: fc.constantFrom<Loose>(
      { type: 'repeat' },
      { type: 'slower' },
      { type: 'firstNote' },
      { type: 'extendPractice' },
      { type: 'restartPractice' },
      { type: 'half', half: 'first' },
      { type: 'half', half: null },
      { type: 'answered', answer: 'A' },
      { type: 'reached', label: 'takeEnd', index: 0 },
      { type: 'playbackEnded', playId: 1 },
      { type: 'markReached', playId: 2, label: 'takeStart', index: 0 },
    ),
  },
  {
    weight: 1,
    arbitrary: fc.constantFrom<Loose>(
      { type: 'problem', reason: 'hidden' },
      { type: 'problem', reason: 'microphone-unplugged' },
      { type: 'problem', reason: 'listener-failed' },
    ),
  },
);
const anyStart = fc.constantFrom(
  strict(),
  relaxed(),
  strict(plainRhythm),
  relaxed(plainRhythm),
  startTask(plainRhythm, { manner: 'relaxed', question: 'part' }),
);

describe('whatever happens', () => {
  it('strict has one take, no help and one hearing at the test’s own tempo', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(strict(), strict(plainRhythm)),
        fc.array(anyEvent, { maxLength: 60 }),
        (start, events) => {
          const { trail } = run(start, events);
          const inStrict = trail.filter((s) => s.manner === 'strict');
          expect(inStrict.every((s) => s.help.length === 0 && s.tempoFactor === 1 && s.half === null)).toBe(
            true,
          );
          const takes = inStrict.filter((s, i) => s.step === 'take' && inStrict[i - 1]?.step !== 'take');
          expect(takes.length).toBeLessThanOrEqual(1);
          expect(inStrict.every((s) => s.attempt === 1 && s.takes <= 1)).toBe(true);
        },
      ),
      { numRuns: 2000 },
    );
  });
  it('a void take is never heard and stays void; a take is stored exactly once', () => {
    fc.assert(
      fc.property(anyStart, fc.array(anyEvent, { maxLength: 80 }), (start, events) => {
        let state = start;
        let stored = 0;
        let listened = 0;
        let attempt = start.attempt;
        for (const event of events) {
          const next = step(state, meant(state, event));
          if (next.state.attempt !== attempt) [stored, listened, attempt] = [0, 0, next.state.attempt];
          for (const command of next.commands) {
            if (command.type === 'store') stored++;
            if (command.type === 'listen') {
              listened++;
              expect(state.take.status).toBe('none');
            }
          }
          if (state.take.status === 'void' && next.state.attempt === state.attempt) {
            expect(next.state.take).toEqual(state.take);
            expect(next.state.heard).toBe(false);
          }
          if (next.state.step === 'result') expect(stored).toBe(1);
          expect(stored).toBeLessThanOrEqual(1);
          expect(listened).toBeLessThanOrEqual(1);
          state = next.state;
        }
      }),
      { numRuns: 2000 },
    );
  });
  it('sound and microphone are started and stopped in pairs', () => {
    fc.assert(
      fc.property(anyStart, fc.array(anyEvent, { maxLength: 80 }), (start, events) => {
        let recording = false;
        let awake = false;
        const { commands, state } = run(start, [...events, { type: 'leave' }]);
        for (const command of commands) {
          if (command.type === 'startRecording') {
            expect(recording).toBe(false);
            recording = true;
          }
          if (command.type === 'stopRecording') {
            expect(recording).toBe(true);
            recording = false;
          }
          if (command.type === 'keepAwake') awake = command.on;
        }
        expect([recording, awake, state.playing, state.recording]).toEqual([false, false, null, false]);
      }),
      { numRuns: 2000 },
    );
  });
  it('the two keys and the reports of the sound lead out of every state', () => {
    fc.assert(
      fc.property(anyStart, fc.array(anyEvent, { maxLength: 60 }), (start, events) => {
        let { state } = run(start, events);
        for (let i = 0; i < 12 && state.step !== 'left'; i++)
          for (const event of [go, takeStart, ended, { type: 'heard' }] as Loose[]) {
            if (state.step !== 'left') state = step(state, meant(state, event)).state;
            // A beat is chosen with the one key and answered with the other.
            if (state.step === 'question' && typeof state.chosen === 'object' && state.chosen)
              state = step(state, meant(state, back)).state;
          }
        expect(state.step).toBe('left');
      }),
      { numRuns: 1000 },
    );
  });
  it('the state is plain data, never changed in place, and the same events give the same state', () => {
    fc.assert(
      fc.property(anyStart, fc.array(anyEvent, { maxLength: 40 }), (start, events) => {
        let state = start;
        for (const event of events) {
          const frozen = structuredClone(state);
          const next = step(state, meant(state, event)).state;
          expect(state).toEqual(frozen);
          expect(JSON.parse(JSON.stringify(next))).toEqual(next);
          state = next;
        }
        expect(run(start, events).state).toEqual(state);
      }),
      { numRuns: 300 },
    );
  });
});
