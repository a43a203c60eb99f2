import { describe, expect, it } from 'vitest';
import type { Chart } from '../../../src/music/chart.ts';
import { chordSymbol, parseChord, pitchClass } from '../../../src/music/chords/index.ts';
import { bpm, midi } from '../../../src/music/units.ts';
import { factList, improvisedFacts, makeChart, type PlayedLine } from '../../../src/tests-engine/index.ts';
import { makeRandom } from '../../../src/tests-engine/material/random/random.ts';
import { played, quaverLine } from './lines.ts';

const NAMES = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];
const named = (name: string, by: number): string => NAMES[(pitchClass(name)! + by) % 12]!;

function transposed(chart: Chart, by: number): Chart {
  return {
    ...chart,
    key: { ...chart.key, tonic: named(chart.key.tonic, by) },
    chords: chart.chords.map((span) => {
      const chord = parseChord(span.symbol)!;
      const moved = { ...chord, root: named(chord.root, by), bass: chord.bass && named(chord.bass, by) };
      return { ...span, symbol: chordSymbol(moved) };
    }),
  };
}

const lines: PlayedLine[] = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10].flatMap((level) =>
  [1, 2, 3].map((seed) => {
    const random = makeRandom(seed, level);
    const chart = makeChart({ level, seed });
    return played(chart, quaverLine(chart, random), { random, spreadMs: 8, biasMs: 10 });
  }),
);
/** The range names the very notes; all else must stay. */
const told = (line: PlayedLine) => factList(improvisedFacts(line)).filter(({ code }) => code !== 'range');
const raised = (line: PlayedLine, by: number): PlayedLine => ({
  ...line,
  notes: line.notes.map((note) => ({ ...note, midi: midi(note.midi + by) })),
});

describe('facts stay when what they are not about changes', () => {
  it('in every key', () => {
    for (const line of lines)
      for (let by = 1; by < 12; by++) {
        const moved = { ...raised(line, by), chart: transposed(line.chart, by) };
        expect(told(moved), `${line.chart.key.tonic} ${line.chart.key.scale} by ${by}`).toEqual(told(line));
      }
  });

  it('an octave up or down', () => {
    for (const line of lines) for (const by of [-12, 12]) expect(told(raised(line, by))).toEqual(told(line));
  });

  it('at a tempo one per cent away, backing and player alike', () => {
    for (const line of lines)
      for (const factor of [0.99, 1.01]) {
        const chart = { ...line.chart, tempoBpm: bpm(line.chart.tempoBpm * factor) };
        const random = makeRandom(7);
        const even = (c: Chart) => told(played(c, quaverLine(c, makeRandom(3)), { random, biasMs: 10 }));
        expect(even(chart)).toEqual(even(line.chart));
      }
  });
});
