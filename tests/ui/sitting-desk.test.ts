import { describe, expect, it } from 'vitest';
import type { SittingRun } from '../../src/music/sitting.ts';
import {
  defaultSetup,
  itemNow,
  standardTuning,
  startTask,
  type ProcedureState,
  type Task,
} from '../../src/tests-engine/index.ts';
import type { Store } from '../../src/store/index.ts';
import { SittingDesk, type SittingEdges } from '../../src/ui/sitting/desk.svelte.ts';

const ID = '0'.repeat(32);
const full = defaultSetup({
  ...{ level: 1, instrument: 'guitar', tuning: standardTuning('guitar').strings, id: ID, name: 'Mock' },
});
const setup = {
  ...full,
  stations: full.stations.filter(({ what }) => what === 'chords' || what === 'questions'),
};

/** A page with a disk that outlives it. */
function page(disk: Map<string, unknown> = new Map(), kept: SittingRun[] = []) {
  let state: ProcedureState | null = null;
  let task: Task | null = null;
  const said = { left: 0, over: '' };
  let marked: ReturnType<SittingEdges['taken']>['marked'] = null;
  let unmarked = false;
  const store = {
    settings: {
      get: async (key: string) => disk.get(key) ?? null,
      set: async (key: string, value: unknown) => void disk.set(key, value),
      remove: async (key: string) => void disk.delete(key),
    },
    sittings: { put: async (_: string, run: SittingRun) => (kept.push(run), { id: run.id }) },
  } as unknown as Store;
  const desk = new SittingDesk({
    disk: { use: (job) => job(store) },
    player: async () => ({ id: 'f'.repeat(32) }) as never,
    now: () => 1_000_000 + 1000 * said.left,
    newId: () => ID,
    seed: () => 5,
    taken: () => ({ state, storing: false, unmarked, marked, sittingId: ID }),
    attemptId: () => 'a'.repeat(32),
    counted: () => ({ mark: 88, outcome: 'there' }),
    leave() {
      said.left += 1;
      state = null;
    },
    play(asked) {
      task = asked;
      state = startTask(asked, { manner: 'strict' });
    },
    piece: async () => null,
    over: (id) => void (said.over = id),
  });
  return {
    desk,
    disk,
    said,
    played: () => task,
    /** The session was stopped elsewhere. */
    leave: () => void (state = null),
    set(some: Partial<ProcedureState>, heard = true) {
      state = { ...state!, ...some };
      unmarked = !heard;
      marked = heard ? ({ test: task } as never) : null;
      desk.follow();
    },
  };
}

describe('the desk of a sitting', () => {
  it('plays what a station asks for, takes its mark, and keeps the whole when it is over', async () => {
    const kept: SittingRun[] = [];
    const { desk, set, said, disk, played } = page(new Map(), kept);
    await desk.begin(setup, false);
    await desk.goOn();
    expect(played()!.kind).toBe('chords');
    set({ step: 'result', take: { status: 'played' } });
    expect(said.left).toBe(1);
    expect(desk.now!.run.stations[0]!.played[0]).toMatchObject({ mark: 88, attemptId: 'a'.repeat(32) });
    for (let n = 0; desk.now && n < 20; n++) {
      await desk.goOn();
      await desk.answer(n % 2 === 0);
    }
    expect(said.over).toBe(ID);
    expect(kept).toHaveLength(1);
    expect(kept[0]!.stations[1]!.played.map(({ right }) => right)).toEqual([true, false, true, false, true]);
    expect(disk.has('sitting')).toBe(false);
  });
  it('notes a problem before the take, a void take and one that could not be heard, each with new material', async () => {
    const { desk, set, played, said } = page();
    await desk.begin(setup, false);
    const seen = new Set<string>();
    const faults: [Partial<ProcedureState>, boolean][] = [
      [{ problem: 'microphone-unplugged' }, true],
      [{ step: 'result', take: { status: 'void', reason: 'abandoned' } }, true],
      [{ step: 'result', take: { status: 'played' } }, false],
    ];
    for (const [some, heard] of faults) {
      await desk.goOn();
      seen.add(JSON.stringify(played()));
      set(some, heard);
    }
    expect(desk.now!.run.stations[0]!.faults.map(({ why }) => why)).toEqual([
      'microphone-unplugged',
      'left',
      'unheard',
    ]);
    expect(desk.now!.run.stations[0]!.played).toEqual([]);
    expect(seen.size).toBe(3);
    expect(said.left).toBe(3);
  });
  it('is taken up by another page where it stood; in the middle of a station that begins anew', async () => {
    const first = page();
    await first.desk.begin(setup, false);
    await first.desk.goOn();
    const before = itemNow(first.desk.now!.run);
    const second = page(first.disk);
    await second.desk.look();
    expect(second.desk.now!.run).toMatchObject({ at: 0, phase: 'before' });
    expect(second.desk.now!.run.stations[0]!.faults.map(({ why }) => why)).toEqual(['closed']);
    await second.desk.goOn();
    expect(itemNow(second.desk.now!.run)).not.toEqual(before);
    // Looking again in the same page disturbs nothing.
    await second.desk.look();
    expect(second.desk.now!.run.phase).toBe('under');
  });
  it('begins nothing where the recording of a piece is not here, says so, and lets the station be passed over', async () => {
    const { desk, played } = page();
    const piece = {
      what: 'pieces',
      weight: 0,
      pieces: [{ trackId: 'c'.repeat(32), title: 'Mine' }],
    } as const;
    await desk.begin({ ...setup, stations: [piece, ...setup.stations] }, false);
    await desk.goOn();
    expect(desk.missing).toBe('Mine');
    expect(desk.now!.run).toMatchObject({ at: 0, phase: 'before' });
    expect(desk.now!.run.stations[0]!.faults).toEqual([]);
    expect(played()).toBeNull();
    await desk.send({ type: 'pass' });
    await desk.goOn();
    expect(played()!.kind).toBe('chords');
  });
  it('is begun by a foot that is quicker than the disk: the page that is being shown meanwhile takes nothing for left', async () => {
    const { desk, played } = page();
    await desk.begin(setup, false);
    const going = desk.goOn();
    desk.shown();
    await going;
    expect(desk.now!.run).toMatchObject({ at: 0, phase: 'under' });
    expect(desk.now!.run.stations[0]!.faults).toEqual([]);
    expect(played()!.kind).toBe('chords');
  });
  it('hears a second press while the disk still writes the first: out of a break, and begun, once', async () => {
    const { desk, played, set } = page();
    await desk.begin(setup, false);
    await desk.goOn();
    set({ step: 'result', take: { status: 'played' } });
    await desk.send({ type: 'break' });
    expect(desk.now!.run.phase).toBe('break');
    const before = played();
    const presses = [desk.goOn(), desk.goOn()];
    await Promise.all(presses);
    expect(desk.now!.run.phase).toBe('under');
    expect(itemNow(desk.now!.run)?.is).toBe('question');
    expect(played()).toBe(before);
  });
  it('notes a station that was left by hand when its page is shown again', async () => {
    const { desk, leave } = page();
    await desk.begin(setup, false);
    await desk.goOn();
    desk.shown();
    expect(desk.now!.run.phase).toBe('under');
    leave();
    desk.shown();
    expect(desk.now!.run.stations[0]!.faults.map(({ why }) => why)).toEqual(['left']);
  });
});
