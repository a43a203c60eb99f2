import { Chord, Scale } from 'tonal';
import { describe, expect, it } from 'vitest';
import { functionOf, parseChord, pitchClass } from '../../../../src/music/chords/index.ts';
import { barTicks } from '../../../../src/music/metre.ts';
import {
  CHART_LEVELS,
  chordOf,
  chordScale,
  isPlayable,
  makeChart,
  STYLE_NAMES,
} from '../../../../src/tests-engine/index.ts';

const LEVELS = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];
const charts = LEVELS.flatMap((level) =>
  Array.from({ length: 400 }, (_, seed) => ({ level, seed, chart: makeChart({ level, seed }) })),
);

describe('a chart of a level', () => {
  it('is the same for the same seed, and seldom for another', () => {
    for (const { level, seed, chart } of charts.slice(0, 50))
      expect(makeChart({ level, seed })).toEqual(chart);
    for (const level of LEVELS) {
      const own = charts.filter((c) => c.level === level).map((c) => JSON.stringify(c.chart));
      expect(new Set(own).size, `level ${level}`).toBeGreaterThan(200);
    }
  });

  it('covers its bars without gaps, four to twelve of them, in a style that exists', () => {
    for (const { chart } of charts) {
      let at = 0;
      for (const { startTicks, durationTicks } of chart.chords) {
        expect(startTicks).toBe(at);
        at += durationTicks;
      }
      expect(at).toBe(chart.bars * barTicks(chart.metre));
      expect([4, 8, 12]).toContain(chart.bars);
      expect(STYLE_NAMES).toContain(chart.style);
    }
  });

  it('asks for no chord that has no shape on the neck', () => {
    for (const { chart } of charts)
      for (const { symbol } of chart.chords) expect(isPlayable(parseChord(symbol)!), symbol).toBe(true);
  });

  it('has every numeral of the table in some key of its level', () => {
    CHART_LEVELS.forEach(({ forms, tonics }, i) => {
      for (const bars of forms.flatMap(({ parts }) => parts.flat()))
        expect(
          tonics.some((tonic) => bars.split(/[\s|]+/).every((n) => isPlayable(chordOf(n, tonic)))),
          `level ${i + 1}: ${bars}`,
        ).toBe(true);
    });
  });

  it('stays in its key up to level 4 and leads out of it from level 8 on', () => {
    const foreign = (level: number) =>
      charts
        .filter((c) => c.level === level)
        .filter(({ chart: { chords, key } }) => {
          const scale = new Set(Scale.get(`${key.tonic} ${key.scale}`).notes.map((n) => pitchClass(n)));
          return chords.some(({ symbol }) => [...chordScale(symbol, key).tones].some((pc) => !scale.has(pc)));
        }).length;
    for (const level of [1, 2, 3, 4]) expect(foreign(level), `level ${level}`).toBe(0);
    for (const level of [8, 9, 10]) expect(foreign(level), `level ${level}`).toBeGreaterThan(100);
  });

  it('begins at home at the first five levels', () => {
    for (const { chart, level } of charts.filter((c) => c.level <= 5)) {
      const first = parseChord(chart.chords[0]!.symbol)!;
      expect(functionOf(first, chart.key.tonic, false), `${level} ${chart.chords[0]!.symbol}`).toBe('tonic');
    }
  });

  it('refuses what is none', () => {
    expect(() => makeChart({ level: 11, seed: 1 })).toThrow('1…10');
    expect(() => makeChart({ level: 1, seed: -1 })).toThrow('seed');
    expect(() => makeChart({ level: 1, seed: 1, tempoBpm: 10 })).toThrow('30…240');
    expect(() => chordOf('H7', 'C')).toThrow('numeral');
  });
});

describe('the scale over a chord', () => {
  it('is one that tonal offers for the chord, where tonal knows the scale', () => {
    // tonal 6.4.3, Chord.chordScales and Scale.detect: the outside authority here.
    const asked = new Map(
      charts.flatMap(({ chart: { chords, key } }) =>
        key.scale === 'blues' ? [] : chords.map(({ symbol }) => [`${symbol} ${key.tonic} ${key.scale}`, { symbol, key }]),
      ),
    ); // prettier-ignore
    let known = 0;
    for (const { symbol, key } of asked.values()) {
      const { names } = chordScale(symbol, key);
      const [name] = Scale.detect([...names], { match: 'exact', tonic: names[0]! });
      if (name === undefined) continue;
      known++;
      const own = symbol.split('/')[0]!;
      const tones = new Set(Chord.get(own).notes.map((n) => pitchClass(n)));
      const scale = new Set(Scale.get(name).notes.map((n) => pitchClass(n)));
      expect(
        [...tones].every((pc) => scale.has(pc)),
        `${symbol} in ${key.tonic} ${key.scale}: ${name}`,
      ).toBe(true);
      expect(Chord.chordScales(own)).toContain(name.slice(names[0]!.length + 1));
    }
    expect(known).toBeGreaterThan(100);
  });

  it('alters the key as handbooks do', () => {
    // Secondary dominants raise the leading note of their goal (common practice, no source).
    const names = (symbol: string, tonic: string, scale: string) =>
      chordScale(symbol, { tonic, scale }).names.join(' ');
    expect(names('A7', 'C', 'major')).toBe('A B C# D E F G');
    expect(names('D7', 'C', 'major')).toBe('D E F# G A B C');
    expect(names('Fm', 'C', 'major')).toBe('F G Ab B C D E');
    expect(names('E7', 'A', 'harmonic minor')).toBe('E F G# A B C D');
    expect(names('D7', 'A', 'blues')).toBe('D E F# G A B C');
  });
});
