import { describe, expect, it } from 'vitest';
import {
  DEFAULT_SETTINGS,
  handlerOf,
  makeReading,
  startProcedure,
  startTask,
  step,
} from '../../src/tests-engine/index.ts';
import type { Manner, ProcedureEvent, ProcedureState } from '../../src/tests-engine/index.ts';
import { keyWord } from '../../src/ui/keysNow.ts';
import { plain } from '../tests-engine/procedure/some-tests.ts';

const fresh = (manner: Manner): ProcedureState =>
  startProcedure(handlerOf(plain).plan(plain, { ...DEFAULT_SETTINGS, manner }), {
    ...DEFAULT_SETTINGS,
    manner,
  });
const after = (state: ProcedureState, ...events: readonly ProcedureEvent[]): ProcedureState =>
  events.reduce((now, event) => step(now, event).state, state);
const says = (state: ProcedureState) => [keyWord(state, 'goOn'), keyWord(state, 'back')];
const goOn = { type: 'goOn' } as const;

describe('what the two keys are said to do', () => {
  it('is what they do, in the relaxed manner from the first step to a take given up', () => {
    const ready = fresh('relaxed');
    expect(says(ready)).toEqual(['listen', null]);
    const hearing = after(ready, goOn);
    expect(says(hearing)).toEqual(['find', 'again']);
    const practice = after(hearing, goOn);
    expect(says(practice)).toEqual(['count', 'again']);
    const counting = after(practice, goOn);
    expect(says(counting)).toEqual([null, 'find']);
    const playId = counting.playing!.id;
    const take = after(counting, { type: 'markReached', playId, label: 'takeStart', index: 0 });
    expect(says(take)).toEqual([null, 'give-up']);
    expect(says(after(take, { type: 'back' }))).toEqual(['next', 'start']);
  });
  it('is nothing where the strict manner lets neither do anything', () => {
    const practice = after(fresh('strict'), goOn, { type: 'playbackEnded', playId: 1 });
    expect(practice.step).toBe('practice');
    expect(says(practice)).toEqual(['count', null]);
    expect(says(after(practice, goOn))).toEqual([null, null]);
  });
  it('speaks of preparing and playing, never of finding, where nothing was heard first', () => {
    const page = (click: boolean) =>
      startTask(makeReading({ level: 1, seed: 1, instrument: 'guitar', click }), { manner: 'relaxed' });
    expect(says(page(true))).toEqual(['prepare', null]);
    expect(says(after(page(true), goOn))).toEqual(['count', 'prepare']);
    expect(says(after(page(true), goOn, goOn))).toEqual([null, 'prepare']);
    expect(says(after(page(false), goOn))).toEqual(['play', 'prepare']);
    expect(says(after(page(false), goOn, goOn))).toEqual(['over', 'give-up']);
  });
});
