import { describe, expect, it } from 'vitest';
import {
  coming,
  handlerOf,
  makeReading,
  markTask,
  nextReading,
  ofNotes,
  startTask,
  step,
  takeOf,
  type ProcedureCommand,
} from '../../../src/tests-engine/index.ts';
import type { HeardTake } from '../../../src/music/notes.ts';
import { barTicks } from '../../../src/music/metre.ts';
import type { ReadingTask } from '../../../src/music/task.ts';
import { performedSec, phraseSec } from '../../../src/music/time.ts';
import { cents, db, midi, sec } from '../../../src/music/units.ts';
import { checkOwn } from '../../../src/store/schema/index.ts';
import { ID } from '../../store/support/backup.ts';
import { sampleAttempt } from '../../store/support/sample.ts';

const page = (request: Partial<Parameters<typeof makeReading>[0]> = {}): ReadingTask =>
  makeReading({ level: 4, seed: 11, instrument: 'guitar', ...request });

interface Played {
  readonly atSec: number;
  readonly midi: number;
}
const heard = (notes: readonly Played[]): HeardTake => ({
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
const asWritten = (task: ReadingTask, fromSec = 0, rate = 1): Played[] =>
  task.phrase.notes.map((n) => ({ atSec: fromSec + rate * performedSec(n.startTicks, task), midi: n.midi }));
/** The take as the app would hand it over. */
const take = (task: ReadingTask, notes: readonly Played[]) =>
  takeOf(heard(notes), { beatOneSec: 0, latencySec: 0 }, handlerOf(task).span(task));

describe('a page to read', () => {
  it('is turned up for 90 s, with a click that is recorded, then counted in', () => {
    const task = page();
    let state = startTask(task, { manner: 'strict' });
    const commands: ProcedureCommand[] = [];
    for (const type of ['goOn', 'practiceEnded'] as const) {
      const next = step(state, { type });
      state = next.state;
      commands.push(...next.commands);
    }
    expect(commands).toContainEqual({ type: 'startPractice', lengthSec: 90 });
    expect(commands.map((c) => (c.type === 'play' ? c.sheet : c.type))).toContain('preparation');
    expect(state).toMatchObject({ step: 'countIn', recording: true });
    const sheet = handlerOf(task).sheet(task, 'performance', {});
    const at = (label: string) => sheet.marks.find((mark) => mark.label === label)!.atSec;
    expect(at('takeEnd') - at('takeStart')).toBeCloseTo(phraseSec(task), 9);
    expect(sheet.cues.some((cue) => cue.type === 'note')).toBe(false);
    expect(() => handlerOf(task).sheet(task, 'hearing', {})).toThrow(RangeError);
  });
  it('without a click begins when the player is ready, and has all that was played to find the take in', () => {
    const task = page({ click: false });
    const first = step(startTask(task, { manner: 'strict' }), { type: 'goOn' }).state;
    const { state, commands } = step(first, { type: 'goOn' });
    expect(state.step).toBe('take');
    expect(commands.at(-1)).toMatchObject({ type: 'openTake' });
    expect(take(task, asWritten(task, 300)).notes).toHaveLength(task.phrase.notes.length);
  });
  it('is followed by another of the same kind, which the record chooses', () => {
    const programme = { from: 'reading', level: 4, instrument: 'guitar', click: false } as const;
    expect(coming(programme, page(), () => 77)).toEqual({ do: 'ask' });
    const next = nextReading([], 'strict', { level: 4, instrument: 'guitar', seed: 77 });
    expect(next).toEqual({
      task: makeReading({ level: 4, instrument: 'guitar', seed: 77 }),
      because: null,
    });
  });
});

describe('its mark', () => {
  it('is 100 as written, on the click’s clock and at one’s own tempo', () => {
    for (let seed = 0; seed < 10; seed++) {
      const clicked = page({ seed, level: 1 + seed });
      expect(markTask(clicked, take(clicked, asWritten(clicked))).mark, `${seed}`).toBe(100);
      const free = { ...clicked, procedure: { ...clicked.procedure, click: false } };
      expect(markTask(free, take(free, asWritten(free, 7, 1.2))).mark, `${seed} free`).toBeGreaterThanOrEqual(
        99,
      );
    }
  });
  it('on the click’s clock falls where the tempo is one’s own', () => {
    const task = page();
    expect(markTask(task, take(task, asWritten(task, 0, 1.15))).mark).toBeLessThan(80);
  });
  it('is no lower for a false start before the take', () => {
    const task = page({ click: false });
    const opening = asWritten(task, 1).slice(0, 3);
    expect(markTask(task, take(task, [...opening, ...asWritten(task, 9)])).mark).toBe(100);
  });
  it('names the bar that was left out', () => {
    const task = page({ level: 6, seed: 5 });
    const bar = barTicks(task.phrase.metre);
    const out = task.phrase.notes.flatMap((n, i) => (Math.floor(n.startTicks / bar) === 2 ? [i] : []));
    expect(out.length).toBeGreaterThan(1);
    const mark = ofNotes(
      markTask(
        task,
        take(
          task,
          asWritten(task).filter((_, i) => !out.includes(i)),
        ),
      ),
    )!;
    expect(mark.readings).toContainEqual({ code: 'left-out', values: { bar: 3 } });
    expect(mark.mark).toBeLessThan(95);
  });
  it('of what could not be heard is none', () => {
    const task = page({ click: false });
    const refused: HeardTake = { ...heard([]), heard: { verdict: 'refused', reason: 'silence' } };
    expect(markTask(task, refused)).toMatchObject({ mark: null, reason: 'silence' });
  });
});

describe('what is kept of it', () => {
  it('fits the record’s schema, whatever the level and help', () => {
    for (let seed = 0; seed < 30; seed++) {
      const task = page({ seed, level: 1 + (seed % 10), click: seed % 2 === 0 });
      const sounded = handlerOf(task).sounded(task, { tempoFactor: 0.75, half: seed % 3 ? null : 'first' });
      const played = take(sounded, asWritten(sounded));
      const attempt = { ...sampleAttempt(ID(1), 1), id: ID(2), atMs: 1e12, order: 1e12 };
      const kept = { ...attempt, test: sounded, take: played, mark: markTask(sounded, played), answer: null };
      expect(checkOwn('attempts', kept)).toMatchObject({ test: { kind: 'reading' } });
    }
  });
  it('is refused where a sign stands at a note that is not there', () => {
    const task = { ...page(), signs: [{ kind: 'accent' as const, note: 300 }] };
    const attempt = { ...sampleAttempt(ID(1), 1), id: ID(2), atMs: 1e12, order: 1e12, test: task };
    expect(() => checkOwn('attempts', attempt)).toThrow(TypeError);
  });
});
