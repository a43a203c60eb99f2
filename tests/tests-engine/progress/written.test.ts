import { describe, expect, it } from 'vitest';
import {
  handlerOf,
  levelList,
  makeReading,
  makeScale,
  markTask,
  nextReading,
  practised,
  scaleId,
  takeOf,
  writtenEstimates,
  writtenPartsOf,
  type Practised,
} from '../../../src/tests-engine/index.ts';
import type { HeardTake } from '../../../src/music/notes.ts';
import type { ReadingTask, ScaleTask } from '../../../src/music/task.ts';
import { performedSec } from '../../../src/music/time.ts';
import { cents, db, midi, sec } from '../../../src/music/units.ts';

type Written = ReadingTask | ScaleTask;

/** The take of a player who plays as written, but `wrong` notes a semitone too high, and waits 0.1 s before others. */
function taken(
  task: Written,
  wrong: (i: number) => boolean,
  waits: (i: number) => boolean = () => false,
): HeardTake {
  let late = 0;
  const heard: HeardTake = {
    tuningCents: cents(0),
    heard: { verdict: 'ok', reason: null },
    notes: task.phrase.notes.map((note, i) => {
      if (waits(i)) late += 0.1;
      const onset = performedSec(note.startTicks, task) + late;
      return {
        onsetSec: sec(onset),
        offsetSec: sec(onset + 0.1),
        midi: midi(note.midi + (wrong(i) ? 1 : 0)),
        cents: cents(0),
        levelDb: db(-20),
        confidence: 1,
      };
    }),
  };
  return takeOf(heard, { beatOneSec: 0, latencySec: 0 }, handlerOf(task).span(task));
}
function digest(
  task: Written,
  order: number,
  ...how: [Parameters<typeof taken>[1], Parameters<typeof taken>[2]?]
): Practised {
  const take = taken(task, ...how);
  return practised({
    id: String(order),
    atMs: order * 1000,
    order,
    test: task,
    manner: 'strict',
    mark: markTask(task, take),
    take,
  });
}
const page = (seed: number, level = 6): ReadingTask => makeReading({ level, seed, instrument: 'guitar' });
const accidental = (task: ReadingTask) => (i: number) => {
  const only = { ...task, phrase: { ...task.phrase, notes: [task.phrase.notes[i]!] } };
  return (writtenPartsOf(only)!.get('read-accidental') ?? 0) > 0;
};

describe('the parts of a page', () => {
  it('are asked as often as its notes show them', () => {
    for (let seed = 0; seed < 20; seed++) {
      const task = page(seed, 1 + (seed % 10));
      const parts = writtenPartsOf(task)!;
      const altered = task.phrase.notes.filter((_, i) => accidental(task)(i)).length;
      expect(parts.get('read-accidental') ?? 0, `seed ${seed}`).toBe(altered);
      const open = task.positions.every(({ fret }) => fret <= 1);
      if (open) expect(parts.has('read-position')).toBe(false);
    }
  });
  it('that always go wrong are known to after some pages, and only they', () => {
    const record = Array.from({ length: 8 }, (_, k) => page(k)).map((task, k) =>
      digest(task, k, accidental(task)),
    );
    const estimates = writtenEstimates(record, 'reading', 'strict');
    const [weakest, second] = [...estimates].sort((a, b) => a.chance - b.chance) as [
      (typeof estimates)[0],
      (typeof estimates)[0],
    ];
    expect(weakest.part).toBe('read-accidental');
    expect(weakest.high).toBeLessThan(0.6);
    expect(second.low).toBeGreaterThan(weakest.high);
    expect(writtenEstimates(record, 'reading', 'relaxed')).toEqual([]);
    expect(writtenEstimates(record, 'scale', 'strict')).toEqual([]);
  });
  it('of notes and of TAB are kept apart, and the next page goes by its own', () => {
    const tab = (seed: number): ReadingTask => ({ ...page(seed), shows: 'tab' });
    const record = Array.from({ length: 8 }, (_, k) => k).flatMap((k) => [
      digest(tab(k), 2 * k, accidental(tab(k))),
      digest(page(k), 2 * k + 1, () => false),
    ]);
    const chance = (shows: 'staff' | 'tab' | 'both') =>
      writtenEstimates(record, 'reading', 'strict', shows).find(({ part }) => part === 'read-accidental')
        ?.chance;
    expect(chance('tab')).toBeLessThan(0.6);
    expect(chance('staff')).toBeGreaterThan(0.9);
    expect(chance('both')).toBeUndefined();
    const request = { level: 6, seed: 100, instrument: 'guitar' as const };
    expect(nextReading(record, 'strict', { ...request, shows: 'tab' }).because).toBe('read-accidental');
    expect(nextReading(record, 'strict', { ...request, shows: 'staff' }).because).not.toBe('read-accidental');
  });
  it('are known the less surely the less was played, and between their limits', () => {
    const one = writtenEstimates([digest(page(1), 0, () => false)], 'reading', 'strict');
    const ten = writtenEstimates(
      Array.from({ length: 10 }, (_, k) => digest(page(k), k, () => false)),
      'reading',
      'strict',
    );
    for (const { part, low, high, chance } of one) {
      const later = ten.find((other) => other.part === part)!;
      expect(later.high - later.low, part).toBeLessThan(high - low);
      expect(chance).toBeGreaterThan(low);
      expect(chance).toBeLessThan(high);
    }
  });
});

describe('the next page', () => {
  it('asks more for what goes wrong than any page would', () => {
    const record = Array.from({ length: 8 }, (_, k) => page(k)).map((task, k) =>
      digest(task, k, accidental(task)),
    );
    const share = (task: ReadingTask): number =>
      (writtenPartsOf(task)!.get('read-accidental') ?? 0) / task.phrase.notes.length;
    let [chosen, random] = [0, 0];
    for (let seed = 100; seed < 112; seed++) {
      const request = { level: 6, seed, instrument: 'guitar' } as const;
      const next = nextReading(record, 'strict', request);
      expect(next).toEqual(nextReading(record, 'strict', request));
      expect(next.because).toBe('read-accidental');
      chosen += share(next.task);
      random += share(makeReading(request));
    }
    expect(chosen).toBeGreaterThan(1.4 * random);
  });
});

describe('the parts of a scale', () => {
  const named = levelList(5, 'guitar').entries[0]!;
  const task = makeScale({ named, instrument: 'guitar', level: 5, seed: 1, click: false });
  const crosses = (i: number): boolean =>
    i > 0 &&
    task.hands[i] === task.hands[i - 1] &&
    task.phrase.notes[i]!.string !== task.phrase.notes[i - 1]!.string;
  it('say that a note waited for did not come off, though it was right', () => {
    const at = task.phrase.notes.findIndex((_, i) => i > 5 && crosses(i));
    const { written = [] } = digest(
      task,
      1,
      () => false,
      (i) => i === at,
    );
    const [, right, asked] = written.find(([part]) => part === 'scale-crossing')!;
    expect([right, asked]).toEqual([asked - 1, task.phrase.notes.filter((_, i) => crosses(i)).length]);
    const plain = written.find(([part]) => part === 'scale-plain')!;
    expect(plain[1]).toBe(plain[2]);
  });
  it('are kept under the entry’s name, whatever its tempo', () => {
    expect(digest(task, 1, () => false).scale).toBe(scaleId(named));
    expect(scaleId({ ...named, tempo: [40, 40] })).toBe(scaleId(named));
    expect(scaleId({ ...named, octaves: 1 })).not.toBe(scaleId(named));
  });
});
