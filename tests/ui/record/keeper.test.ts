import { describe, expect, it } from 'vitest';
import type { Student } from '../../../src/store/index.ts';
import { unpackBackup } from '../../../src/store/backup/file.ts';
import { startTask, type ProcedureState, type Programme } from '../../../src/tests-engine/index.ts';
import type { Disk } from '../../../src/ui/record/disk.svelte.ts';
import { TakeKeeper } from '../../../src/ui/record/keeper.svelte.ts';
import { UnsavedTakes } from '../../../src/ui/record/unsavedTakes.svelte.ts';
import type { Marked } from '../../../src/ui/session/types.ts';
import { sampleAttempt } from '../../store/support/sample.ts';
import { diskOf, ID, memory, student } from './support.ts';

const START: Programme = { from: 'start' };
const SET = { there: 88, close: 66 };
const HOMEWORK: Programme = { from: 'homework', homeworkId: ID(500), item: 1, thresholds: SET };
const USUAL = { there: 85, close: 60 };

const marked = (n: number): Marked => {
  const { test, take, mark } = sampleAttempt(ID(1), n);
  return {
    ...{ test, take, mark },
    latency: { ms: 80, uncertaintyMs: Infinity, source: 'reported' },
    sound: {
      recording: { samples: new Float32Array(4800), sampleRate: 48000, startFrame: 0, gaps: [] },
      zeroSample: 0,
    },
  };
};
const done = (given: Partial<ProcedureState> = {}): ProcedureState => ({
  ...startTask(marked(1).test, { manner: 'strict' }),
  ...given,
});

/** A keeper over a record in memory; `play` is one take from count-in to its end. */
function house(player: () => Student | null = () => student(1, 'Ann')) {
  const kept = memory([student(1, 'Ann'), student(2, 'Ben')]);
  const disk: Disk = diskOf(kept.store);
  let seen = (): void => undefined;
  let onScreen = Promise.resolve();
  let next = 1;
  const unsaved: UnsavedTakes = new UnsavedTakes({
    disk,
    written: (attempt, what) => keeper.written(attempt, what),
  });
  const keeper: TakeKeeper = new TakeKeeper({
    ...{ disk, unsaved },
    player: async () => player(),
    chosen: player,
    usualThresholds: () => USUAL,
    counts: (manner) => manner === 'strict',
    newId: () => ID(next++),
    now: () => 5,
    visible: () => onScreen,
    askToKeep: () => undefined,
  });
  const play = async (what: Marked | null, programme = START, state = done()): Promise<void> => {
    keeper.begin(marked(1).test, state.manner, programme);
    await keeper.keep(state, what, programme);
  };
  const hide = (): void => void (onScreen = new Promise((resolve) => (seen = resolve)));
  return { ...kept, disk, unsaved, keeper, play, hide, show: () => seen() };
}
const settled = (): Promise<void> => new Promise((resolve) => setTimeout(resolve));

describe('the answer to the question', () => {
  const { test } = marked(1);
  const question = 'question' in test ? test.question : null;
  const wrong = question?.answer === 'A' ? ('B' as const) : ('A' as const);
  it('goes with the take, and says whether it counts; what is shown holds back “there” where it does', async () => {
    const { play, written, keeper } = house();
    const take = { ...marked(1), mark: { ...marked(1).mark, outcome: 'there' as const } };
    for (const manner of ['strict', 'relaxed'] as const) {
      const state = done({ manner, answer: wrong });
      await play(take, START, state);
      expect(keeper.counted(take, state, START).outcome).toBe(manner === 'strict' ? 'close' : 'there');
      expect(keeper.counted(take, done({ manner, answer: question!.answer }), START)).toBe(take.mark);
    }
    expect(written.map(({ answer, answerCounts }) => [answer, answerCounts])).toEqual([
      [wrong, true],
      [wrong, undefined],
    ]);
    expect(written[0]!.mark.outcome).toBe('there');
  });
  it('counts in homework as the teacher set it, whatever this machine says', async () => {
    const { play, written, keeper } = house();
    const take = { ...marked(1), mark: { ...marked(1).mark, outcome: 'there' as const } };
    const outcomes: (string | null)[] = [];
    for (const [counts, manner] of [
      ['always', 'relaxed'],
      ['never', 'strict'],
      ['strict', 'strict'],
    ] as const) {
      const state = done({ manner, answer: wrong });
      const homework: Programme = { ...HOMEWORK, question: { form: 'which', counts } };
      await play(take, homework, state);
      outcomes.push(keeper.counted(take, state, homework).outcome);
    }
    expect(outcomes).toEqual(['close', 'there', 'close']);
    expect(written.map(({ answerCounts }) => answerCounts)).toEqual([true, undefined, true]);
  });
});

describe('a take on its way to the record', () => {
  it('is written when it is done, with the homework, the outcomes and the help that it had', async () => {
    const { play, written, keeper, drafts } = house();
    const help = [
      { kind: 'again' },
      { kind: 'repeat' },
      { kind: 'half' },
    ] as unknown as ProcedureState['help'];
    await play(marked(1), HOMEWORK, done({ manner: 'relaxed', help }));
    expect(written).toMatchObject([
      {
        studentId: ID(1),
        homeworkId: ID(500),
        thresholds: SET,
        help: { 'live-note': 1, repeat: 2, halves: 1 },
        latency: null,
      },
    ]);
    expect(keeper.last).toEqual(written[0]);
    expect(drafts.size).toBe(0);
    await play(marked(2));
    expect(written[1]).toMatchObject({ homeworkId: null, thresholds: USUAL, help: {} });
  });

  it('that was void or given up leaves nothing, once the page is seen again', async () => {
    const { play, drafts, written, hide, show, keeper } = house();
    hide();
    await play(null, START, done({ take: { status: 'void', reason: 'too-early' } as never }));
    await settled();
    expect(drafts.size).toBe(1);
    show();
    await settled();
    expect(drafts.size).toBe(0);
    hide();
    keeper.begin(marked(1).test, 'strict', START);
    keeper.drop();
    show();
    await settled();
    expect([drafts.size, written.length, keeper.last]).toEqual([0, 0, null]);
  });

  it('belongs to whoever played when it began, though another is chosen meanwhile', async () => {
    let now = student(1, 'Ann');
    const { keeper, written } = house(() => now);
    keeper.begin(marked(1).test, 'strict', START);
    await settled();
    now = student(2, 'Ben');
    await keeper.keep(done(), marked(1), START);
    expect(written.map(({ studentId }) => studentId)).toEqual([ID(1)]);
  });

  it('is held while the disk is full and written once there is room, under the id it had in the file', async () => {
    const { play, refuse, written, unsaved, keeper, disk } = house();
    refuse('quota');
    await play(marked(1));
    await play(marked(2));
    expect(unsaved.list).toHaveLength(2);
    expect(disk.problem).toBe('quota');
    expect(keeper.last).toBeNull();
    const file = await unsaved.file(null, 'Me');
    const { records } = await unpackBackup(file!);
    refuse(null);
    expect(await unsaved.saveAgain()).toBe(true);
    expect(disk.problem).toBeNull();
    expect(written.map(({ id }) => id)).toEqual(records.attempts.map(({ id }) => id));
    // The one on the screen is the last attempt; the other's sound has left memory.
    expect(keeper.last?.id).toBe(written[1]!.id);
  });

  it('of a student deleted meanwhile waits until somebody says whose it is', async () => {
    const { play, refuse, unsaved, written } = house();
    refuse('missing');
    await play(marked(1));
    expect(unsaved.list).toMatchObject([{ studentId: null }]);
    refuse(null);
    expect(await unsaved.saveAgain()).toBe(false);
    await unsaved.give(student(2, 'Ben'));
    expect(written).toMatchObject([{ studentId: ID(2) }]);
    expect(unsaved.list).toEqual([]);
  });

  it('that nobody could be asked about is tried again when somebody is chosen', async () => {
    const { play, unsaved, written } = house(() => null);
    await play(marked(1));
    expect(written).toEqual([]);
    expect(unsaved.list).toMatchObject([{ studentId: null, draftId: null }]);
    unsaved.retryOrphans();
    await settled();
    expect(unsaved.list).toHaveLength(1);
  });

  it('that does not fit the record never will, and is in no file', async () => {
    const { play, refuse, unsaved } = house();
    refuse(new TypeError('a field is wrong'));
    await play(marked(1));
    expect(unsaved.list).toMatchObject([{ never: true }]);
    expect(await unsaved.file(null, 'Me')).toBeNull();
  });

  it('keeps its sound where the user allows some, and only of the result on the screen', async () => {
    const { keeper, play, sounds, refuse, unsaved } = house();
    await play(marked(1));
    await settled();
    expect(sounds).toEqual([]);
    await keeper.setSoundLimitMb(3);
    await play(marked(2));
    await settled();
    expect(sounds).toEqual([{ attemptId: keeper.last!.id, limit: 3e6 }]);
    refuse('quota');
    await play(marked(3));
    keeper.shown(null);
    refuse(null);
    await unsaved.saveAgain();
    await settled();
    expect(sounds).toHaveLength(1);
  });

  it('is not held where nothing can ever be kept', async () => {
    const { keeper, unsaved, disk } = house();
    disk.isHopeless = async () => true;
    await keeper.keep(done(), marked(1), START);
    expect(unsaved.list).toEqual([]);
  });
});
