import { describe, expect, it } from 'vitest';
import type { ChordVerdict } from '../../../src/music/chords/index.ts';
import { barTicks } from '../../../src/music/metre.ts';
import type { HeardTake } from '../../../src/music/notes.ts';
import type { ImprovisingTask } from '../../../src/music/task.ts';
import { cents, ticksToSec } from '../../../src/music/units.ts';
import { phraseSec } from '../../../src/music/time.ts';
import {
  chartOf,
  handlerOf,
  makeImprovising,
  markTask,
  ofNotes,
  parseImprovising,
  startTask,
  step,
  wasHeard,
  type Description,
} from '../../../src/tests-engine/index.ts';
import { makeRandom } from '../../../src/tests-engine/material/random/random.ts';
import { played, quaverLine } from '../facts/lines.ts';

const task = makeImprovising({ level: 3, seed: 5, instrument: 'guitar' });
const ok = { verdict: 'ok', reason: null } as const;
const takeWith = (notes: HeardTake['notes'], heard: HeardTake['heard'] = ok): HeardTake => ({
  notes,
  tuningCents: cents(0),
  heard,
});

describe('a chart to improvise over', () => {
  it('is prepared for half a minute in silence, then played over twice; the second pass is the take', () => {
    let state = startTask(task);
    const told: string[] = [];
    const send = (event: Parameters<typeof step>[1]) => {
      const next = step(state, event);
      state = next.state;
      told.push(...next.commands.map(({ type }) => type));
    };
    send({ type: 'goOn' });
    expect(state.step).toBe('practice');
    expect(told).toContain('startPractice');
    send({ type: 'practiceEnded' });
    expect(state.step).toBe('countIn');
    const playId = state.playing!.id;
    const mark = (index: number) => send({ type: 'markReached', playId, label: 'takeStart', index });
    mark(0);
    expect(state.step).toBe('countIn');
    mark(1);
    expect(state.step).toBe('take');
    send({ type: 'playbackEnded', playId });
    expect(state.step).toBe('listening');
  });

  it('sounds both passes in one sheet without a gap; with chords to play, only bass and drums', () => {
    const sheet = handlerOf(task).sheet(task, 'performance', {});
    const starts = sheet.marks.filter(({ label }) => label === 'takeStart').map(({ atSec }) => atSec);
    const ends = sheet.marks.filter(({ label }) => label === 'takeEnd').map(({ atSec }) => atSec);
    expect(starts).toHaveLength(2);
    expect(starts[1]).toBeCloseTo(ends[0]!, 9);
    const voices = (plays: 'line' | 'chords') =>
      new Set(
        handlerOf(task)
          .sheet({ ...task, plays }, 'performance', {})
          .cues.flatMap((cue) => (cue.type === 'note' ? [cue.voice] : [])),
      );
    expect(voices('line').size).toBeGreaterThan(1);
    expect([...voices('chords')]).toEqual(['bass']);
  });

  it('takes the second pass from half a beat before its first bar line, and nothing of the first', () => {
    const { fromSec, toSec } = handlerOf(task).span(task);
    expect(fromSec).toBeCloseTo(-30 / task.tempoBpm, 9);
    expect(toSec).toBeGreaterThan(phraseSec(task));
  });

  it('is described in at most three sentences, not marked', () => {
    const line = played(chartOf(task), quaverLine(chartOf(task), makeRandom(3))).notes;
    const mark = markTask(task, takeWith(line));
    expect(mark).toMatchObject({ type: 'described', mark: null, outcome: null, reason: 'described' });
    expect(wasHeard(mark)).toBe(true);
    expect(ofNotes(mark)).toBeNull();
    expect(mark.readings.length).toBeLessThanOrEqual(3);
  });

  it('tells of chords whether each stroke held the chord of its bar, and where one did not', () => {
    const chords: ImprovisingTask = { ...task, plays: 'chords' };
    const chart = chartOf(chords);
    const at = chart.chords.map(({ startTicks }) => ticksToSec(startTicks, chart.tempoBpm));
    const take = (verdicts: readonly ChordVerdict[]): HeardTake => ({
      ...takeWith([]),
      strums: verdicts.map((verdict, i) => ({
        firstSec: at[i]! + 0.01,
        fullSec: at[i]! + 0.02,
        answers: [
          { asked: i, verdict, doubt: null, missing: [], foreign: [], lowerNote: null },
          // A stroke near the change may be the chord to come: the milder answer counts.
          ...(i > 0
            ? [
                {
                  asked: i - 1,
                  verdict: 'no' as const,
                  doubt: null,
                  missing: [],
                  foreign: [],
                  lowerNote: null,
                },
              ]
            : []),
        ],
      })),
    });
    const verdicts = at.map((_, i): ChordVerdict => (i === 1 ? 'no' : i === 2 ? 'cannot-tell' : 'yes'));
    const mark = markTask(chords, take(verdicts)) as Description;
    const told = Object.fromEntries(mark.facts.map(({ code, values }) => [code, values]));
    expect(mark).toMatchObject({ type: 'described', mark: null, reason: 'described' });
    expect(told['strokes-held']).toEqual({ yes: at.length - 2, no: 1, unsure: 1 });
    expect(told['chords-held']).toEqual({ count: at.length - 2, of: at.length });
    expect(mark.readings.length).toBeLessThanOrEqual(3);
    const second = 1 + Math.floor(chart.chords[1]!.startTicks / barTicks(chart.metre));
    expect(mark.advice).toEqual({ code: 'try-chord-of-bar', values: { bar: second } });
    // The ear is asked for the name in any voicing, over the whole of its bars and half a beat before.
    const { asked } = handlerOf(chords).chords!(chords)!;
    expect(asked).toHaveLength(at.length);
    asked.forEach(({ fromSec, toSec }, i) => {
      expect(fromSec).toBeLessThan(at[i]!);
      expect(toSec).toBeGreaterThan(at[i]!);
    });
    expect(handlerOf(task).chords!(task)).toBeUndefined();
    // Strokes that are all too short to be told accuse nobody.
    const short = markTask(chords, take(at.map(() => 'cannot-tell'))) as Description;
    expect(short.readings.map(({ code }) => code)).toContain('strokes-untold');
    expect(short.advice.code).toBe('try-let-ring');
    const silent = markTask(chords, take([]));
    expect(silent.readings.map(({ code }) => code)).toContain('nothing-played');
  });

  it('tells of chords in which bar the strokes stopped, where their end was heard', () => {
    const chords: ImprovisingTask = { ...task, plays: 'chords' };
    const chart = chartOf(chords);
    const barSec = ticksToSec(barTicks(chart.metre), chart.tempoBpm);
    const SILENT = 2;
    const take = (ends: boolean): HeardTake => ({
      ...takeWith([]),
      strums: Array.from({ length: chart.bars }, (_, bar) => bar)
        .filter((bar) => bar !== SILENT)
        .map((bar) => ({
          firstSec: bar * barSec,
          fullSec: bar * barSec + 0.01,
          ...(ends ? { untilSec: (bar + 1) * barSec - 0.05 } : {}),
          answers: [{ asked: 0, verdict: 'yes', doubt: null, missing: [], foreign: [], lowerNote: null }],
        })),
    });
    const stops = (ends: boolean) =>
      markTask(chords, take(ends)).readings.filter(({ code }) => code === 'stopped');
    expect(stops(true)).toHaveLength(1);
    expect(stops(true)[0]!.values).toMatchObject({ bar: SILENT + 1 });
    // Takes kept before ends were heard may have rung on.
    expect(stops(false)).toEqual([]);
  });

  it('tells nothing in words of chords that the ear for single notes heard', () => {
    const line = played(chartOf(task), quaverLine(chartOf(task), makeRandom(3))).notes;
    const mark = markTask({ ...task, plays: 'chords' }, takeWith(line));
    expect(mark).toMatchObject({ type: 'described', reason: 'described', facts: [] });
    expect(mark.readings.map(({ code }) => code)).toEqual(['chords-kept']);
  });

  it('says that nothing was played, and nothing at all of what could not be heard', () => {
    const silent = markTask(task, takeWith([], { verdict: 'refused', reason: 'silence' }));
    expect(silent).toMatchObject({ reason: 'silence', mark: null });
    expect(silent.advice.code).toBe('nothing-played');
    expect(wasHeard(silent)).toBe(false);
    const clipped = markTask(task, takeWith([], { verdict: 'refused', reason: 'clipped' }));
    expect(clipped).toMatchObject({ reason: 'clipped', readings: [] });
  });

  it('survives the schema whole, and what contradicts itself is refused with its place', () => {
    const json: unknown = JSON.parse(JSON.stringify(task));
    expect(parseImprovising(json)).toEqual(task);
    const { chart } = task;
    expect(() => parseImprovising({ ...task, chart: chart.slice(1) })).toThrow('chart[0]');
    expect(() => parseImprovising({ ...task, chart: [{ ...chart[0], symbol: 'H7' }] })).toThrow('no chord');
    expect(() => parseImprovising({ ...task, key: { tonic: 'C', scale: 'nonsense' } })).toThrow('no key');
    expect(() => parseImprovising({ ...task, more: 1 })).toThrow('more');
  });
});
