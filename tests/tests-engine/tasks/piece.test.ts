import { describe, expect, it } from 'vitest';
import { checkOwnTask } from '../../support/checkOwnTask.ts';
import type { PiecePart, PieceTrack } from '../../../src/music/piece.ts';
import { cents, midi, sec, ticks } from '../../../src/music/units.ts';
import {
  dueNotes,
  handlerOf,
  makePieceTask,
  markTask,
  standardTuning,
  timesOf,
  wayOfPiece,
} from '../../../src/tests-engine/index.ts';

const METRE = { beats: 4, beatUnit: 4, grouping: [2, 2] } as const;
const track: PieceTrack = { id: 'a'.repeat(32), name: 'own', durationSec: 60, barOneSec: 2, bpm: 120 };
const note = (startTicks: number, pitch: number) => ({
  startTicks: ticks(startTicks),
  durationTicks: ticks(480),
  midi: midi(pitch),
  spelling: 'E4',
  string: 1,
  fret: 0,
});
/** A pick-up of a crotchet, then four bars; the last two twice as fast. */
const part: PiecePart = {
  title: 'own',
  metre: METRE,
  fifths: 0,
  minor: false,
  bars: [0, 480, 2400, 4320, 6240].map((startTicks, k) => ({
    startTicks,
    durationTicks: k === 0 ? 480 : 1920,
    printed: k,
  })),
  notes: Array.from({ length: 17 }, (_, k) => note(480 * k, 64)),
  tempi: [
    { atTicks: 0, bpm: 60 },
    { atTicks: 4320, bpm: 120 },
  ],
  swing: 0.5,
};
const request = {
  instrument: 'guitar',
  tuning: standardTuning('guitar').strings,
  track,
  title: 'own',
  part,
  metre: METRE,
  key: { tonic: 'C', scale: 'major' },
  passage: null,
} as const;
const task = makePieceTask(request);

describe('a piece as a task', () => {
  it('brings the file’s map of tempi to the tempo of the recording', () => {
    expect(task.tempi.map(({ bpm }) => bpm)).toEqual([120, 240]);
    expect(timesOf(task).barSecs).toEqual([0, 0.5, 2.5, 4.5, 5.5].concat(6.5));
    expect(dueNotes(task).map(({ bar }) => bar)).toEqual([
      0,
      ...[1, 2, 3, 4].flatMap((b) => Array(4).fill(b)),
    ]);
  });

  it('sounds the recording so that its bar 1 lies on the part’s', () => {
    const sheet = handlerOf(task).sheet(task, 'performance', {});
    const start = sheet.marks.find(({ label }) => label === 'takeStart')!.atSec;
    // The pick-up begins half a second before bar 1, at 1.5 s of the file.
    expect(sheet.track).toMatchObject({ atSec: start, fromSec: 1.5, stretch: 1 });
    const early = makePieceTask({ ...request, track: { ...track, barOneSec: 0.2 } });
    const late = handlerOf(early).sheet(early, 'performance', {});
    expect(late.track!.fromSec).toBe(0);
    expect(late.track!.atSec - late.marks.find(({ label }) => label === 'takeStart')!.atSec).toBeCloseTo(
      0.3,
      9,
    );
  });

  it('plays bars a to b slower, from the same place of the recording', () => {
    const some = makePieceTask({ ...request, passage: { from: 2, to: 4 }, tempoFactor: 0.5 });
    expect(timesOf(some).barSecs).toEqual([0, 4, 6]);
    const sheet = handlerOf(some).sheet(some, 'performance', {});
    expect(sheet.track).toMatchObject({ fromSec: 4, stretch: 2 });
    expect(sheet.marks.filter(({ label }) => label === 'bar')).toHaveLength(2);
    expect(
      handlerOf(task)
        .sounded(task, { tempoFactor: 0.5 })
        .tempi.map(({ bpm }) => bpm),
    ).toEqual([60, 120]);
  });

  it('marks a line, checks chords, and keeps for the teacher what nobody knows', () => {
    expect(wayOfPiece(task)).toBe('line');
    const chords = [0, 480, 960].flatMap((at) => [52, 56, 59].map((pitch) => note(at, pitch)));
    const strummed = makePieceTask({ ...request, part: { ...part, notes: chords } });
    expect(wayOfPiece(strummed)).toBe('chords');
    expect(handlerOf(strummed).chords!(strummed)!.asked.map(({ chord }) => chord)).toEqual(
      Array(3).fill({ shapes: [[52, 56, 59]] }),
    );
    const alone = makePieceTask({ ...request, part: null });
    expect(wayOfPiece(alone)).toBe('teacher');
    expect(alone.bars).toHaveLength(29);
    const take = {
      notes: dueNotes(task).map(({ onsetSec, midi: pitch }) => ({
        onsetSec: sec(onsetSec),
        offsetSec: sec(onsetSec + 0.3),
        midi: midi(pitch),
        cents: cents(0),
        levelDb: -20 as never,
        confidence: 0.9,
      })),
      tuningCents: cents(0),
      heard: { verdict: 'ok', reason: null },
    } as const;
    expect(markTask(task, take)).toMatchObject({
      mark: 100,
      outcome: 'there',
      readings: [{ code: 'all-right' }],
    });
    expect(markTask(alone, take)).toMatchObject({ type: 'teacher', mark: null, reason: 'for-teacher' });
    const refused = { ...take, notes: [], heard: { verdict: 'refused', reason: 'clipped' } } as const;
    for (const one of [task, strummed, alone])
      expect(markTask(one, refused)).toMatchObject({ mark: null, reason: 'clipped' });
  });

  it('can be kept, and says in one sentence what cannot be a piece', () => {
    expect(checkOwnTask(task)).toEqual(JSON.parse(JSON.stringify(task)));
    expect(() => makePieceTask({ ...request, passage: { from: 3, to: 3 } })).toThrow(
      'this is no piece: passage goes from bar 3 to 3 of 5',
    );
    expect(() => makePieceTask({ ...request, track: { ...track, id: 'x' } })).toThrow(
      /this is no piece: track.id/,
    );
  });
});
