import { describe, expect, it } from 'vitest';
import { Chord as TonalChord } from 'tonal';
import { chordClasses, chordSymbol, parseChord } from '../../../../src/music/chords/index.ts';
import {
  askedOf,
  CHORD_SHAPES,
  holdsItsChord,
  makeChords,
  SHAPE_FAMILIES,
  soundingOf,
  type ChordRequest,
} from '../../../../src/tests-engine/material/chords/index.ts';

const request = (over: Partial<ChordRequest> = {}): ChordRequest => ({
  seed: 1,
  families: ['open', 'barre'],
  how: 'named',
  count: 8,
  voicing: 'shape',
  ...over,
});

describe('the shapes', () => {
  it('hold their chord: every tone but a fifth that may lack, and nothing else', () => {
    for (const shape of CHORD_SHAPES)
      expect(holdsItsChord(shape), `${chordSymbol(shape.chord)} ${shape.frets.join()}`).toBe(true);
  });
  it('are what tonal names their tones', () => {
    for (const shape of CHORD_SHAPES) {
      const classes = new Set(soundingOf(shape).map((note) => note % 12));
      // tonal's own list of notes, without the bass of a slash chord.
      const theirs = TonalChord.get(chordSymbol({ ...shape.chord, bass: null }).replace('add9', 'Madd9'));
      expect(theirs.empty, chordSymbol(shape.chord)).toBe(false);
      expect(chordClasses(shape.chord)).toHaveLength(theirs.notes.length);
      expect(classes.size).toBeGreaterThanOrEqual(Math.min(2, theirs.notes.length));
    }
  });
  it('can be reached: no more than five frets under the hand, and the root or the bass lowest in all but triads', () => {
    for (const { frets, chord, family } of CHORD_SHAPES) {
      const stopped = frets.filter((fret) => fret !== null && fret > 0) as number[];
      expect(Math.max(...stopped) - Math.min(...stopped)).toBeLessThan(5);
      expect(Math.max(...stopped)).toBeLessThanOrEqual(14);
      if (family === 'triad') continue;
      const lowest = soundingOf({ frets })[0]! % 12;
      const bass = parseChord(chord.bass ?? chord.root)!;
      expect(lowest).toBe(chordClasses(bass)[0]);
    }
  });
});

describe('a list of chords', () => {
  it('is the same for the same request, and another for another seed', () => {
    expect(makeChords(request())).toEqual(makeChords(request()));
    expect(makeChords(request()).chords).not.toEqual(makeChords(request({ seed: 2 })).chords);
  });
  it('never asks the same chord twice in a row', () => {
    for (let seed = 0; seed < 300; seed++) {
      const { chords } = makeChords(request({ seed, count: 16, families: [SHAPE_FAMILIES[seed % 7]!] }));
      for (let i = 1; i < chords.length; i++)
        expect(chords[i]!.symbol, `seed ${seed}`).not.toBe(chords[i - 1]!.symbol);
    }
  });
  it('brings weak ones back more often than others', () => {
    let weak = 0;
    let other = 0;
    for (let seed = 0; seed < 200; seed++)
      for (const { symbol } of makeChords(request({ seed, families: ['open'], weak: ['F'] })).chords) {
        if (symbol === 'F') weak++;
        if (symbol === 'C') other++;
      }
    expect(weak).toBeGreaterThan(1.5 * other);
  });
});

describe('a progression', () => {
  it('has a bar a chord, and roots of one key', () => {
    for (let seed = 0; seed < 100; seed++) {
      const test = makeChords(request({ seed, how: 'progression', count: 8 }));
      expect(test.chords.map((c) => c.startTicks)).toEqual(test.chords.map((_, i) => i * 1920));
      const roots = new Set(test.chords.map(({ symbol }) => chordClasses(parseChord(symbol)!)[0]!));
      const inOneKey = Array.from({ length: 12 }, (_, tonic) =>
        [...roots].every((pc) => [0, 2, 4, 5, 7, 9, 11].includes((pc - tonic + 12) % 12)),
      ).some(Boolean);
      expect(inOneKey, `seed ${seed}: ${test.chords.map((c) => c.symbol).join(' ')}`).toBe(true);
    }
  });
  it('can be made of each kind of shape alone', () => {
    for (const family of SHAPE_FAMILIES)
      expect(
        makeChords(request({ how: 'progression', families: [family], count: 4 })).chords,
        family,
      ).toHaveLength(4);
  });
});

describe('what the ear is asked for', () => {
  const chord = { startTicks: null };
  const tuning = [40, 45, 50, 55, 59, 64];
  it('is the notes of the shape, in the tuning', () => {
    const frets = [null, 3, 2, 0, 1, 0];
    expect(askedOf({ ...chord, symbol: 'C', frets }, tuning)).toEqual({ shapes: [[48, 52, 55, 60, 64]] });
    expect(
      askedOf(
        { ...chord, symbol: 'C', frets },
        tuning.map((n) => n - 1),
      ),
    ).toEqual({
      shapes: [[47, 51, 54, 59, 63]],
    });
  });
  it('is the tones of the name, a seventh chord’s fifth being free to lack, the bass where it is named', () => {
    const asked = (symbol: string) => askedOf({ ...chord, symbol, frets: null }, tuning);
    expect(asked('C')).toEqual({ classes: [0, 4, 7], optional: [], bass: null });
    expect(asked('G7')).toEqual({ classes: [7, 11, 2, 5], optional: [2], bass: null });
    expect(asked('D/F#')).toEqual({ classes: [2, 6, 9], optional: [], bass: 6 });
    expect(asked('Am/G')).toEqual({ classes: [9, 0, 4, 7], optional: [], bass: 7 });
    expect(() => asked('H')).toThrow(RangeError);
  });
});

describe('requests', () => {
  it.each([
    [{ seed: -1 }, /seed must be a whole number/],
    [{ count: 0 }, /count must be a whole number 1…32, got 0/],
    [{ tempoBpm: 500 }, /tempo must be 30…240/],
    [{ families: [] }, /kinds must be some of open, /],
  ])('%j is a RangeError', (over, message) => {
    expect(() => makeChords(request(over as Partial<ChordRequest>))).toThrow(RangeError);
    expect(() => makeChords(request(over as Partial<ChordRequest>))).toThrow(message);
  });
});
