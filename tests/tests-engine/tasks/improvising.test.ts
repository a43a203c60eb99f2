import { describe, expect, it } from 'vitest';
import type { HeardTake } from '../../../src/music/notes.ts';
import { cents } from '../../../src/music/units.ts';
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

  it('tells nothing of chords in words, as the ear for single notes cannot', () => {
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
