import { describe, expect, it } from 'vitest';
import { bpm } from '../../../src/music/units.ts';
import {
  findTake,
  levelList,
  scaleFacts,
  scaleTarget,
  standardTuning,
  targetOf,
  type PlayedNote,
  type ScaleEntry,
  type ScaleFacts,
} from '../../../src/tests-engine/index.ts';

/** G major over two octaves in the second position, quavers at 80: 29 notes, 375 ms apart. */
const ENTRY: ScaleEntry = {
  ...levelList(4, 'guitar').entries[0]!,
  tonic: 'G',
  kind: 'major',
  string: 6,
  position: 2,
  octaves: 2,
  values: 'quavers',
  tempo: [72, 88],
};
const TARGET = scaleTarget(ENTRY, standardTuning('guitar').strings);
const STEP = 0.375;
/** Hands that are even to some ms, always the same. */
const WOBBLE = [0, 4, -3, 6, -5, 2, -6, 3, 5, -2, 1, -4, 6, 0, -3];

interface Over {
  readonly entry?: Partial<ScaleEntry>;
  readonly tempo?: number;
  readonly swing?: number;
}

const written = ({ swing = 0.5 }: Over = {}) => targetOf(TARGET.phrase, { tempoBpm: bpm(80), swing });
const even = (): PlayedNote[] =>
  TARGET.phrase.notes.map(({ midi }, i) => ({
    onsetSec: 2 + i * STEP + WOBBLE[i % WOBBLE.length]! / 1000,
    midi,
    levelDb: -20,
  }));
/** From note `i` on everything comes this many ms later; `alone`: that note only. */
const late = (i: number, ms: number, alone = false): PlayedNote[] =>
  even().map((n, k) => (k === i || (k > i && !alone) ? { ...n, onsetSec: n.onsetSec + ms / 1000 } : n));

function facts(played: readonly PlayedNote[], over: Over = {}): ScaleFacts & { mark: number | null } {
  const entry = { ...ENTRY, ...over.entry };
  const target = written(over);
  const { mark } = findTake({
    target,
    played,
    clock: 'free',
    transposition: 'none',
    beatSec: 0.75,
    beatsPerBar: 4,
  });
  const found = scaleFacts({
    target,
    fingers: TARGET.fingers,
    played,
    mark,
    tempoBpm: 80,
    asked: entry.tempo,
    swung: over.swing !== undefined,
    earSpreadMs: () => 0,
  });
  return { ...found, mark: mark.mark };
}
/** The first note on the next string on the way up. */
const CROSSING = TARGET.fingers.findIndex((f, i) => i > 0 && f.string !== TARGET.fingers[i - 1]!.string);

describe('facts of a scale', () => {
  it('of even hands: nothing to say, tempo and spread', () => {
    const told = facts(even());
    expect(told.mark).toBe(100);
    expect(told.hesitations).toEqual([]);
    expect(told.habits).toEqual([]);
    expect(told.advice).toEqual({ code: 'even', values: {} });
    expect(told.tempoBpm).toBeCloseTo(80, 0);
    expect(told.spreadMs).toBeLessThan(8);
  });

  it.each([4, 10, 20])('tell a spread of %i ms to a third, waits and a change of tempo left out', (ms) => {
    // Normal deviations from sums of twelve of a linear congruential generator's numbers (as in Numerical Recipes).
    let state = 12345;
    const uniform = (): number => (state = (Math.imul(1664525, state) + 1013904223) >>> 0) / 2 ** 32;
    const normal = (): number => Array.from({ length: 12 }, uniform).reduce((sum, x) => sum + x, -6);
    const told = Array.from({ length: 20 }, () => {
      const played = TARGET.phrase.notes.map(({ midi }, i) => ({
        midi,
        onsetSec: 2 + i * STEP * (1 + 0.0003 * i) + (i > 14 ? 0.12 : 0) + (normal() * ms) / 1000,
      }));
      return facts(played).spreadMs!;
    });
    const mean = told.reduce((sum, x) => sum + x, 0) / told.length;
    expect(Math.abs(mean / ms - 1)).toBeLessThan(1 / 3);
  });

  it.each([true, false])('place a string crossing 90 ms late (that note alone: %s)', (alone) => {
    const told = facts(late(CROSSING, 90, alone));
    expect(told.hesitations.map(({ note }) => note)).toEqual([CROSSING]);
    expect(told.hesitations[0]!.place).toEqual({ kind: 'crossing', from: 6, to: 5 });
    expect(Math.abs(told.hesitations[0]!.ms - 90)).toBeLessThan(15);
    expect(told.advice.code).toBe('wait-crossing');
    expect(told.advice.values).toMatchObject({ from: 6, to: 5 });
  });

  it('say which shift the hand waits at', () => {
    const entry = { ...ENTRY, string: null, position: null };
    const bass = scaleTarget(entry, standardTuning('bass').strings);
    const shift = bass.fingers.findIndex((f, i) => i > 0 && f.hand !== bass.fingers[i - 1]!.hand);
    const { hand, string } = bass.fingers[shift]!;
    // Along one string, as bass players go up to the second octave.
    expect(bass.fingers[shift - 1]!.string).toBe(string);
    const target = targetOf(bass.phrase, { tempoBpm: bpm(80), swing: 0.5 });
    const played = target.map(({ onsetSec }, i) => ({
      onsetSec: 2 + onsetSec + (i >= shift ? 0.09 : 0),
      midi: bass.phrase.notes[i]!.midi,
      levelDb: -20,
    }));
    const { mark } = findTake({
      ...{ target, played, clock: 'free', transposition: 'none', beatSec: 0.75, beatsPerBar: 4 },
    });
    const told = scaleFacts({
      ...{ target, fingers: bass.fingers, played, mark, tempoBpm: 80, asked: ENTRY.tempo },
      ...{ swung: false, earSpreadMs: () => 0 },
    });
    expect(told.hesitations.map(({ note, place }) => [note, place])).toEqual([
      [shift, { kind: 'shift', from: bass.fingers[shift - 1]!.hand, to: hand }],
    ]);
    expect(told.advice).toMatchObject({ code: 'wait-shift', values: { position: hand } });
  });

  it('place a wait wherever it is, and only there', () => {
    for (let i = 2; i < TARGET.phrase.notes.length - 1; i++)
      expect(
        facts(late(i, 100)).hesitations.map(({ note }) => note),
        `note ${i}`,
      ).toEqual([i]);
  });

  it('say what a habit costs where each wait alone is too short to be one', () => {
    let lost = 0;
    const played = even().map((n, i) => {
      const from = TARGET.fingers[i - 1]?.string;
      if (from === 5 && TARGET.fingers[i]!.string === 4) lost += 0.04;
      if (from === 4 && TARGET.fingers[i]!.string === 5) lost += 0.04;
      return { ...n, onsetSec: n.onsetSec + lost };
    });
    const told = facts(played);
    expect(told.hesitations).toEqual([]);
    // Once up and once down: each crossing is met once, so neither is a habit.
    expect(told.habits).toEqual([]);
  });

  it('notice that the last three notes hurry', () => {
    const n = TARGET.phrase.notes.length;
    const played = even().map((note, i) =>
      i >= n - 3 ? { ...note, onsetSec: note.onsetSec - (i - (n - 4)) * 0.2 * STEP } : note,
    );
    const told = facts(played);
    expect(told.hurriedEndPercent).toBeGreaterThan(12);
    expect(told.advice.code).toBe('hurried-end');
  });

  it.each([
    [64, 'too-slow'],
    [100, 'too-fast'],
    [80, 'even'],
  ] as const)('hold the tempo played, %i, against the one asked: %s', (tempo, code) => {
    const played = even().map((n) => ({ ...n, onsetSec: (n.onsetSec * 80) / tempo }));
    const told = facts(played);
    expect(told.tempoBpm).toBeCloseTo(tempo, 0);
    expect(told.advice.code).toBe(code);
  });

  it('tell a swing ratio, and that straight quavers are not swung', () => {
    const swung = (ratio: number): PlayedNote[] =>
      even().map((n, i) => ({
        ...n,
        onsetSec: 2 + Math.floor(i / 2) * 0.75 + (i % 2 ? (0.75 * ratio) / (ratio + 1) : 0),
      }));
    expect(facts(swung(2), { swing: 2 / 3 }).swingRatio).toBeCloseTo(2, 1);
    expect(facts(swung(1.6), { swing: 2 / 3 }).swingRatio).toBeCloseTo(1.6, 1);
    const straight = facts(swung(1), { swing: 2 / 3 });
    expect(straight.swingRatio).toBeCloseTo(1, 1);
    expect(straight.advice.code).toBe('straight');
    expect(facts(even()).swingRatio).toBeNull();
  });

  it('tell the accents that crossing strings makes', () => {
    const played = even().map((n, i) =>
      i > 0 && TARGET.fingers[i]!.string !== TARGET.fingers[i - 1]!.string ? { ...n, levelDb: -15 } : n,
    );
    const told = facts(played);
    expect(told.crossingAccentDb).toBeGreaterThan(4);
    expect(told.advice.code).toBe('accents');
    expect(facts(even()).crossingAccentDb).toBeCloseTo(0, 5);
  });

  it('put wrong, missed and extra notes first', () => {
    const wrong = even().map((n, i) => (i === 9 ? { ...n, midi: n.midi! + 1 } : n));
    const told = facts(wrong);
    expect(told.mark).toBeLessThan(100);
    expect(facts(wrong.filter((_, i) => i !== 4 && i !== 5)).advice.code).toBe('notes');
  });

  it('have nothing to tell of next to nothing', () => {
    expect(facts([])).toMatchObject({
      tempoBpm: null,
      spreadMs: null,
      hesitations: [],
      crossingAccentDb: null,
    });
    expect(facts(even().slice(0, 3))).toMatchObject({ tempoBpm: null, spreadMs: null });
  });
});
