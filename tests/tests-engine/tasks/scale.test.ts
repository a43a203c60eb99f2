import { describe, expect, it } from 'vitest';
import {
  factsOfScale,
  handlerOf,
  levelList,
  makeScale,
  markTask,
  ofNotes,
  parseScale,
  startTask,
  step,
  takeOf,
  type ProcedureCommand,
} from '../../../src/tests-engine/index.ts';
import type { HeardTake } from '../../../src/music/notes.ts';
import type { ScaleEntry } from '../../../src/music/scales.ts';
import type { ScaleTask } from '../../../src/music/task.ts';
import { performedSec } from '../../../src/music/time.ts';
import { cents, db, midi, sec } from '../../../src/music/units.ts';
import { checkOwn } from '../../../src/store/schema/index.ts';
import { ID } from '../../store/support/backup.ts';
import { sampleAttempt } from '../../store/support/sample.ts';

const G_MAJOR: ScaleEntry = {
  tonic: 'G',
  kind: 'major',
  octaves: 2,
  string: null,
  position: null,
  direction: 'up and down',
  values: 'quavers',
  tempo: [80, 80],
  swung: false,
  byHeart: true,
};
const scale = (over: Partial<ScaleEntry> = {}, request: { click?: boolean } = {}): ScaleTask =>
  makeScale({ named: { ...G_MAJOR, ...over }, instrument: 'guitar', level: 5, ...request });

const heard = (notes: readonly { atSec: number; midi: number }[]): HeardTake => ({
  tuningCents: cents(0),
  heard: { verdict: 'ok', reason: null },
  notes: notes.map(({ atSec, midi: pitch }) => ({
    onsetSec: sec(atSec),
    offsetSec: sec(atSec + 0.2),
    midi: midi(pitch),
    cents: cents(0),
    levelDb: db(-20),
    confidence: 1,
  })),
});
const asWritten = (task: ScaleTask, fromSec = 0, rate = 1) =>
  task.phrase.notes.map((n) => ({ atSec: fromSec + rate * performedSec(n.startTicks, task), midi: n.midi }));
const take = (task: ScaleTask, notes: Parameters<typeof heard>[0]) =>
  takeOf(heard(notes), { beatOneSec: 0, latencySec: 0 }, handlerOf(task).span(task));
/** Notes from the n-th on later by `ms`: a wait that is not caught up. */
const waiting = (task: ScaleTask, note: number, ms: number, fromSec = 0) =>
  asWritten(task, fromSec).map((one, i) => (i < note ? one : { ...one, atSec: one.atSec + ms / 1000 }));
/** The first note on another string than the one before it. */
const crossing = (task: ScaleTask): number =>
  task.phrase.notes.findIndex((n, i) => i > 4 && n.string !== task.phrase.notes[i - 1]!.string);

describe('a scale that is named', () => {
  it('is thought of to the click that then counts it in; the room is learnt meanwhile', () => {
    const task = scale();
    let state = startTask(task, { manner: 'strict' });
    const commands: ProcedureCommand[] = [];
    for (const type of ['goOn', 'goOn'] as const) {
      const next = step(state, { type });
      state = next.state;
      commands.push(...next.commands);
    }
    expect(commands.flatMap((c) => (c.type === 'play' ? [c.sheet] : []))).toEqual([
      'preparation',
      'performance',
    ]);
    expect(commands.map(({ type }) => type)).toContain('startRecording');
    expect(state).toMatchObject({ step: 'countIn', recording: true });
    expect(() => handlerOf(task).sheet(task, 'hearing', {})).toThrow(RangeError);
  });
  it('without a click begins when the player is ready', () => {
    const task = scale({}, { click: false });
    const first = step(startTask(task, { manner: 'strict' }), { type: 'goOn' }).state;
    const { state, commands } = step(first, { type: 'goOn' });
    expect(state.step).toBe('take');
    expect(commands.at(-1)).toMatchObject({ type: 'openTake' });
  });
  it('draws its tempo from its seed within what is asked', () => {
    const named = { ...G_MAJOR, tempo: [60, 90] as const };
    const tempos = Array.from(
      { length: 60 },
      (_, seed) => makeScale({ named, instrument: 'guitar', seed }).tempoBpm as number,
    );
    expect(Math.min(...tempos)).toBeGreaterThanOrEqual(60);
    expect(Math.max(...tempos)).toBeLessThanOrEqual(90);
    expect(new Set(tempos).size).toBeGreaterThan(15);
  });
  it('of every list of ours fits its schema, on guitar and bass', () => {
    for (const instrument of ['guitar', 'bass'] as const)
      for (let level = 1; level <= 10; level++)
        for (const named of levelList(level, instrument).entries) {
          const task = makeScale({ named, instrument, level, seed: 7 });
          expect(parseScale(JSON.parse(JSON.stringify(task)))).toEqual(task);
        }
  });
  it('in a key of more than seven signs is written without a signature', () => {
    expect(scale({ tonic: 'D#', kind: 'major' }).key).toEqual({ tonic: 'C', scale: 'major' });
  });
});

describe('its mark', () => {
  it('is 100 as written, to the click and at one’s own tempo', () => {
    for (const over of [{}, { kind: 'minor arpeggio' }, { swung: true }, { direction: 'down' }] as const) {
      const clicked = scale(over);
      expect(markTask(clicked, take(clicked, asWritten(clicked))).mark).toBe(100);
      const free = scale(over, { click: false });
      expect(markTask(free, take(free, asWritten(free, 5, 1.1))).mark).toBe(100);
    }
  });
  it('says which string is waited for, to the click and without', () => {
    for (const click of [true, false]) {
      const task = scale({}, { click });
      const at = crossing(task);
      const { mark, advice, readings } = ofNotes(
        markTask(task, take(task, waiting(task, at, 90, click ? 0 : 4))),
      )!;
      const [from, to] = [task.phrase.notes[at - 1]!.string, task.phrase.notes[at]!.string];
      expect(advice, `click ${click}`).toMatchObject({
        code: 'wait-crossing',
        values: { from, to, note: at + 1 },
      });
      expect(Math.abs((advice.values['ms'] as number) - 90)).toBeLessThanOrEqual(5);
      expect(readings.filter(({ code }) => code.includes('late'))).toEqual([]);
      // At one's own tempo a single wait of 90 ms is said, and costs nothing.
      if (click) expect(mark).toBeLessThan(100);
    }
  });
  it('says a wrong note before how it was played', () => {
    const task = scale({}, { click: false });
    const notes = asWritten(task, 3).map((n, i) => (i === 9 ? { ...n, midi: n.midi + 1 } : n));
    expect(ofNotes(markTask(task, take(task, notes)))!.advice).toMatchObject({
      code: 'wrong-note',
      values: { note: 10 },
    });
  });
  it('says at one’s own tempo that it was slower than asked, and costs nothing for it', () => {
    const task = scale({ tempo: [100, 120] }, { click: false });
    const mark = ofNotes(markTask(task, take(task, asWritten(task, 2, 1.4))))!;
    expect(mark.advice.code).toBe('too-slow');
    expect(mark.mark).toBe(100);
  });
  it('of what could not be heard is none, and nothing is told of it', () => {
    const task = scale({}, { click: false });
    const refused: HeardTake = { ...heard([]), heard: { verdict: 'refused', reason: 'silence' } };
    const mark = markTask(task, refused);
    expect(mark).toMatchObject({ mark: null, reason: 'silence' });
    expect(factsOfScale(task, refused, mark)).toBeNull();
  });
});

describe('what is kept of it', () => {
  it('fits the record’s schema, whole, slower and by halves', () => {
    for (const half of [null, 'first', 'second'] as const) {
      const task = scale();
      const sounded = handlerOf(task).sounded(task, { tempoFactor: 0.75, half });
      const played = take(sounded, waiting(sounded, 3, 100));
      const attempt = { ...sampleAttempt(ID(1), 1), id: ID(2), atMs: 1e12, order: 1e12 };
      const kept = { ...attempt, test: sounded, take: played, mark: markTask(sounded, played), answer: null };
      expect(checkOwn('attempts', kept)).toMatchObject({ test: { kind: 'scale' } });
    }
  });
  it('is refused where a note has no hand', () => {
    const task = { ...scale(), hands: [5] };
    expect(() => parseScale(task)).toThrow(/hands are 1/);
  });
});
