import { describe, expect, it, vi } from 'vitest';
import type { Balance, Playback, Rendered, Sound } from '../../src/audio/types.ts';
import type { HeardTake } from '../../src/music/notes.ts';
import type { CueSheet, Phrase } from '../../src/music/score.ts';
import { written } from '../../src/music/task.ts';
import { cents, db, midi, sec } from '../../src/music/units.ts';
import {
  chordsAtSec,
  handlerOf,
  makeChords,
  ofNotes,
  performedSec,
  type Manner,
  type Programme,
  type Task,
} from '../../src/tests-engine/index.ts';
import type { Edges } from '../../src/ui/session/edges.ts';
import { Session } from '../../src/ui/session/session.svelte.ts';
import type { Marked } from '../../src/ui/session/types.ts';
import { plain, plainRhythm } from '../tests-engine/procedure/some-tests.ts';

const RATE = 1000;
const LATENCY_SEC = 0.08;
const HOMEWORK: Programme = { from: 'homework', homeworkId: 'h', item: 0, thresholds: null };

/** A sound that plays nothing: a playback ends, or reaches its marks, when the test says so. */
function silentSound(played: Phrase['notes']) {
  let frame = 0;
  let end: ((how: 'finished' | 'stopped') => void) | null = null;
  let position = 0;
  let takeStart = 0;
  /** The volume of the backing in each sheet played. */
  const at: number[] = [];
  let balance: Balance = { backingDb: 0, melodyDb: 0 };
  // The volume that a sheet was rendered at is told by its first sample.
  const rendered = (sheet: CueSheet): Rendered => ({
    samples: new Float32Array(Math.round(sheet.durationSec * RATE)).fill(balance.backingDb, 0, 1),
    sampleRate: RATE,
    marks: sheet.marks,
  });
  const heard: HeardTake = { notes: [], tuningCents: cents(0), heard: { verdict: 'ok', reason: null } };
  const sound = {
    sampleRate: RATE,
    state: 'running',
    get frame() {
      return frame;
    },
    get balance() {
      return balance;
    },
    setBalance: (wanted: Balance) => void (balance = wanted),
    render: async (sheet: CueSheet) => rendered(sheet),
    renderTogether: async (sheets: readonly CueSheet[]) => sheets.map(rendered),
    play(what: Rendered): Playback {
      at.push(what.samples[0]!);
      const startFrame = frame;
      takeStart = startFrame / RATE + (what.marks.find(({ label }) => label === 'takeStart')?.atSec ?? 0);
      position = 0;
      return {
        startFrame,
        positionSec: () => position,
        stop: () => end?.('stopped'),
        ended: new Promise((resolve) => (end = resolve)),
      };
    },
    reportedLatency: () => ({ sec: LATENCY_SEC, halfWidthSec: 0.035 }),
    expectChords: vi.fn(),
    startRecording: vi.fn(),
    stopRecording: async () => ({
      samples: new Float32Array(RATE),
      sampleRate: RATE,
      startFrame: 0,
      gaps: [],
    }),
    listen: async ({ zeroFrame }: { zeroFrame: number }): Promise<HeardTake> => ({
      ...heard,
      notes: played.map((note) => ({
        onsetSec: sec(takeStart + LATENCY_SEC + performedSec(note.startTicks, plain) - zeroFrame / RATE),
        offsetSec: sec(
          takeStart + LATENCY_SEC + performedSec(note.startTicks, plain) + 0.2 - zeroFrame / RATE,
        ),
        midi: midi(note.midi),
        cents: cents(0),
        levelDb: db(-20),
        confidence: 1,
      })),
    }),
  } as unknown as Sound;
  return {
    sound,
    at,
    to(toSec: number) {
      position = toSec;
    },
    finish() {
      frame += 10 * RATE;
      end?.('finished');
    },
  };
}

/** A session with stand-ins at its edges, and what was said to them. */
function stage(task: Task, given: Partial<Edges> = {}) {
  const silent = silentSound(written(task)?.phrase.notes ?? []);
  const said: string[] = [];
  const stood: string[] = [];
  let picture: (() => void) | null = null;
  let hide: (() => void) | null = null;
  const kept: { marked: Marked | null; programme: Programme }[] = [];
  const edges: Edges = {
    open: async () => silent.sound,
    refused: (error) => {
      throw error;
    },
    onLive: () => () => undefined,
    latency: { now: { sec: LATENCY_SEC, halfWidthSec: 0.001, source: 'earcup' }, learn: () => undefined },
    headphones: true,
    question: 'which',
    onPicture(draw) {
      picture = draw;
      return () => (picture = null);
    },
    keepAwake: (on) => said.push(on ? 'awake' : 'asleep'),
    onHidden(report) {
      hide = report;
      return () => (hide = null);
    },
    keeper: {
      begin: (_test: Task, manner: Manner, { from }) => said.push(`begin ${manner} ${from}`),
      drop: () => said.push('drop'),
      keep: async (_state, marked, programme) => void kept.push({ marked, programme }),
      shown: () => undefined,
      thresholds: () => undefined,
    },
    stands: ({ done, programme }) => stood.push(`${programme.from} ${done ? 'done' : 'begun'}`),
    next: ({ from }) => said.push(`next after ${from}`),
    ...given,
  };
  const session = new Session(edges);
  const settle = () => new Promise((resolve) => setTimeout(resolve));
  return {
    session,
    sound: silent.sound,
    volumes: silent.at,
    said,
    stood,
    kept,
    settle,
    hide: () => hide?.(),
    async ends() {
      silent.finish();
      await settle();
    },
    async reaches(sheet: 'hearing' | 'performance', label: 'phrase' | 'takeStart', index = 0) {
      const marks = handlerOf(task).sheet(task, sheet, {}).marks;
      silent.to(marks.find((mark) => mark.label === label && mark.index === index)!.atSec);
      picture?.();
      await settle();
    },
    async toTake() {
      await session.begin(task, 'strict', HOMEWORK);
      await this.ends();
      session.send({ type: 'goOn' });
      await settle();
      await this.reaches('performance', 'takeStart');
    },
  };
}

describe('a task from its first sound to its mark', () => {
  it('is heard, found, played and marked 100; the keeper is told in order, with where the task came from', async () => {
    const on = stage(plain);
    await on.toTake();
    expect(on.session.state!.step).toBe('take');
    await on.ends();
    expect(on.session.state!.step).toBe('result');
    expect(on.session.marked!.mark.mark).toBe(100);
    expect(on.kept).toEqual([{ marked: on.session.marked, programme: HOMEWORK }]);
    on.session.send({ type: 'goOn' });
    expect(on.stood).toEqual(['homework begun', 'homework done']);
    expect(on.said).toEqual(['awake', 'begin strict homework', 'asleep', 'next after homework']);
  });
  it('takes the round trip off: the same take without it is late', async () => {
    const on = stage(plain, {
      latency: { now: { sec: 0, halfWidthSec: 0.001, source: 'earcup' }, learn: () => undefined },
    });
    await on.toTake();
    await on.ends();
    expect(ofNotes(on.session.marked!.mark)!.timing.biasMs).toBeCloseTo(1000 * LATENCY_SEC, 0);
  });
  it('sounds at the volumes set while the phrase was heard from the next sheet on', async () => {
    const on = stage(plain);
    await on.session.begin(plain, 'relaxed', HOMEWORK);
    on.sound.setBalance({ backingDb: -9, melodyDb: 3 });
    await on.ends();
    on.session.send({ type: 'goOn' });
    await on.settle();
    expect(on.volumes).toEqual([0, -9]);
  });
  it('of a rhythm waits for the answer as well', async () => {
    const on = stage(plainRhythm);
    await on.toTake();
    await on.ends();
    expect(on.session.state).toMatchObject({ step: 'question', heard: true });
    on.session.send({ type: 'answered', answer: 'B' });
    await on.settle();
    expect(on.session.state).toMatchObject({ step: 'result', answer: 'B' });
    expect(on.kept).toHaveLength(1);
  });
});

describe('the question of a rhythm', () => {
  it('is asked as the settings say with help, and as in an exam always which of two', async () => {
    for (const [manner, form] of [
      ['relaxed', 'part'],
      ['strict', 'which'],
    ] as const) {
      const on = stage(plainRhythm, { question: 'part' });
      await on.session.begin(plainRhythm, manner, HOMEWORK);
      expect(on.session.state!.plan.at(-1)).toMatchObject({ does: 'ask', form, beats: 8 });
    }
  });
  it('is asked in homework as the teacher set it, where the homework says so', async () => {
    const on = stage(plainRhythm, { question: 'which' });
    const homework: Programme = { ...HOMEWORK, question: { form: 'beat', counts: 'always' } };
    await on.session.begin(plainRhythm, 'relaxed', homework);
    expect(on.session.state!.plan.at(-1)).toMatchObject({ does: 'ask', form: 'beat' });
    await on.session.begin(plainRhythm, 'relaxed', HOMEWORK);
    expect(on.session.state!.plan.at(-1)).toMatchObject({ does: 'ask', form: 'which' });
  });
});

describe('what goes wrong', () => {
  it('a page hidden in the take makes it void, and nothing is marked', async () => {
    const on = stage(plain);
    await on.toTake();
    on.hide();
    await on.settle();
    expect(on.session.state!.take).toEqual({ status: 'void', reason: 'hidden' });
    expect(on.kept).toEqual([{ marked: null, programme: HOMEWORK }]);
    // Going on plays the same again, turning back takes the next.
    on.session.send(on.session.atResult.onward);
    expect(on.session.state).toMatchObject({ attempt: 2 });
    expect(on.said.filter((word) => word.startsWith('next'))).toEqual([]);
  });
  it('a take that could not be marked is played again by going on; a marked one is followed by the next test', async () => {
    const on = stage(plain);
    await on.toTake();
    await on.ends();
    const { session } = on;
    expect([session.unmarked, session.atResult.onward.type]).toEqual([false, 'goOn']);
    session.marked = {
      ...session.marked!,
      mark: { ...session.marked!.mark, mark: null, reason: 'too-quiet' },
    };
    expect([session.unmarked, session.atResult.onward.type]).toEqual([true, 'back']);
    session.send(session.atResult.back);
    expect(on.said.at(-1)).toBe('next after homework');
  });
  it('a microphone that stays shut leaves the task before its first step', async () => {
    const on = stage(plain, { open: async () => null });
    await on.session.begin(plain, 'strict', { from: 'start' });
    expect(on.session.state!.step).toBe('ready');
    expect(on.session.preparing).toBe(false);
    expect(on.said).toEqual([]);
  });
  it('sound that cannot be fetched is told, and the task stays where it was', async () => {
    const refused: unknown[] = [];
    const broken = new Error('sound file gone');
    const on = stage(plain, {
      open: async () =>
        ({ ...silentSound([]).sound, renderTogether: () => Promise.reject(broken) }) as unknown as Sound,
      refused: (error) => refused.push(error),
    });
    await on.session.begin(plain, 'strict', { from: 'start' });
    expect(refused).toEqual([broken]);
    expect(on.session.state!.step).toBe('ready');
  });
  it('a task that is left before its take drops it', async () => {
    const on = stage(plain);
    await on.session.begin(plain, 'strict', { from: 'start' });
    on.session.stop();
    expect(on.said).toEqual(['awake', 'asleep', 'drop']);
    expect(on.session.state).toBeNull();
  });
});

describe('strokes of chords, answered while they ring', () => {
  const named = makeChords({ seed: 3, families: ['open'], how: 'named', count: 4, voicing: 'shape' });
  const banded = makeChords({
    ...{ seed: 3, families: ['open'], how: 'progression', count: 4, voicing: 'shape', style: 'rock' },
  } as const);

  /** What the ear was asked to expect when the take began. */
  async function expected(test: Task, manner: Manner, headphones: boolean) {
    const { session, sound, settle } = stage(test, { headphones });
    await session.begin(test, manner, { from: 'start' });
    await settle();
    session.send({ type: 'goOn' });
    await settle();
    expect(session.state!.step).toBe('countIn');
    const calls = vi.mocked(sound.expectChords).mock.calls.map(([asked]) => asked);
    session.stop();
    return { before: calls.at(-1) ?? null, after: vi.mocked(sound.expectChords).mock.calls.at(-1)![0] };
  }

  it('are expected with help, each from its name to the next, as much later as the round trip', async () => {
    const { before, after } = await expected(named, 'relaxed', false);
    expect(before!.asked).toHaveLength(4);
    expect(before!.lowest).toBe(40);
    const [first, second] = before!.asked;
    expect((second!.fromFrame - first!.fromFrame) / RATE).toBeCloseTo(chordsAtSec(named)[1]!, 3);
    // Nothing is expected once the test is left.
    expect(after).toBeNull();
  });
  it('are not told as in an exam, nor over a band that the microphone hears', async () => {
    expect((await expected(named, 'strict', false)).before).toBeNull();
    expect((await expected(banded, 'relaxed', false)).before).toBeNull();
    expect((await expected(banded, 'relaxed', true)).before!.asked).toHaveLength(4);
  });
});
