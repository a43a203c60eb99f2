import { describe, expect, it } from 'vitest';
import { readTable, writeTable } from '../../../../src/exchange/index.ts';
import { parseChord } from '../../../../src/music/chords/index.ts';
import {
  CHORD_COLUMNS,
  CHORD_SHAPES,
  ChordFormatError,
  chordFrom,
  chordList,
  chordsFrom,
  fretsText,
  makeChords,
  readFrets,
  rowsOfChords,
  SHAPE_FAMILIES,
  shapesOfKind,
  type ChordEntry,
} from '../../../../src/tests-engine/material/chords/index.ts';

const LIST: readonly ChordEntry[] = [
  { symbol: 'C', frets: [null, 3, 2, 0, 1, 0] },
  { symbol: 'F#m7', frets: null },
  { symbol: 'D/F#', frets: [2, null, 0, 2, 3, 2] },
  { symbol: 'Bb9', frets: [null, 13, 12, 13, 13, 13] },
];
const asked = (over: Partial<Parameters<typeof makeChords>[0]> = {}) =>
  makeChords({
    ...({ seed: 5, families: ['open'], how: 'named', count: 12, voicing: 'shape', chords: LIST } as const),
    ...over,
  }).chords;

describe('a list of chords of one’s own', () => {
  it('is asked for and nothing else, in an order that no seed shares with the list, never one twice in a row', () => {
    for (let seed = 1; seed <= 50; seed++) {
      const chords = asked({ seed });
      expect(new Set(chords.map(({ symbol }) => symbol)).size, `seed ${seed}`).toBe(LIST.length);
      chords.forEach(({ symbol, frets }, i) => {
        expect(LIST).toContainEqual({ symbol, frets });
        if (i > 0) expect(symbol).not.toBe(chords[i - 1]!.symbol);
      });
    }
    const orders = new Set(
      Array.from({ length: 50 }, (_, seed) =>
        asked({ seed })
          .map(({ symbol }) => symbol)
          .join(),
      ),
    );
    expect(orders.size).toBeGreaterThan(45);
  });
  it('brings what went wrong back more often', () => {
    const times = (weak: readonly string[]): number =>
      Array.from({ length: 100 }, (_, seed) => asked({ seed, weak }))
        .flat()
        .filter(({ symbol }) => symbol === 'F#m7').length;
    // Of four chords, two rest at a time: at three to one it can come at most every third time, at evens every fourth.
    expect(times(['F#m7'])).toBeGreaterThan(1.15 * times([]));
  });
  it('is played in time in its own order, from its first chord on', () => {
    expect(asked({ how: 'progression', count: 6 }).map(({ symbol }) => symbol)).toEqual([
      ...LIST.map(({ symbol }) => symbol),
      'C',
      'F#m7',
    ]);
  });
  it('asks for any shape where that is what counts', () => {
    expect(asked({ voicing: 'any' }).every(({ frets }) => frets === null)).toBe(true);
  });
  it('needs a chord', () => {
    expect(() => asked({ chords: [] })).toThrow('a list needs one chord at least');
  });
});

describe('a list as a table', () => {
  it('comes back from what a spreadsheet keeps', () => {
    const table = writeTable([[...CHORD_COLUMNS], ...rowsOfChords(LIST)]);
    expect(chordsFrom(readTable(table))).toEqual(LIST);
  });
  it('comes in any order of columns, with or without shapes', () => {
    expect(
      chordsFrom([
        ['Shape', 'CHORD'],
        ['x-3-2-0-1-0', 'c'],
        ['', ''],
        ['', 'e♭7'],
      ]),
    ).toEqual([LIST[0], { symbol: 'Eb7', frets: null }]);
  });
  it.each([
    [[], 'This table is empty: its first line names the columns chord and shape.'],
    [[['chord', 'colour']], 'This table has a column "colour"; known are chord and shape.'],
    [[['shape'], ['x32010']], 'This table has no column "chord"; add it.'],
    [[['chord'], ['C'], ['H7']], 'Line 3: "H7" is no chord name; write it as C, F#m7 or D/F#.'],
    [
      [
        ['chord', 'shape'],
        ['C', '32010'],
      ],
      'Line 2: "32010" is no shape; write six frets from the lowest string, x for one not struck, as x32010.',
    ],
    [
      [
        ['chord', 'shape'],
        ['Cm', 'x32010'],
      ],
      'Line 2: the shape x32010 does not hold Cm; mend it, or leave it empty for any shape.',
    ],
    [
      [
        ['chord', 'shape'],
        ['D/F#', 'xx0232'],
      ],
      'Line 2: the shape xx0232 does not hold D/F#; mend it, or leave it empty for any shape.',
    ],
    [
      [['chord'], ...Array.from({ length: 201 }, () => ['C'])],
      'This table has 201 lines, at most 200 are read; split it.',
    ],
  ])('refuses %j with one sentence', (rows, message) => {
    expect(() => chordsFrom(rows)).toThrow(ChordFormatError);
    expect(() => chordsFrom(rows)).toThrow(expect.objectContaining({ message }));
  });
  it('reads every shape that it writes', () => {
    for (const { frets } of CHORD_SHAPES) expect(readFrets(fretsText(frets))).toEqual(frets);
    for (const bad of ['', 'xxxxxx', 'x3201', 'x320100', 'x3201y', '1 2 3', '100 1 1 1 1 1'])
      expect(readFrets(bad), bad).toBeNull();
  });
  it('takes what a form names, and says so without a line', () => {
    expect(chordFrom('am7', '')).toEqual({ symbol: 'Am7', frets: null });
    expect(() => chordFrom('nothing', '')).toThrow('"nothing" is no chord name');
  });
});

describe('a list at the door', () => {
  it('is let in as it was kept, and refused with anything else', () => {
    const list = { name: 'Mine', chords: LIST };
    expect(chordList(JSON.parse(JSON.stringify(list)))).toEqual(list);
    expect(chordList({ ...list, chords: [] })).not.toBeNull();
    for (const bad of [
      null,
      { ...list, more: 1 },
      { ...list, chords: [{ symbol: 'H', frets: null }] },
      { ...list, chords: [{ symbol: 'C', frets: [3, 3, 3, 3, 3, 3] }] },
      { ...list, chords: [{ symbol: 'C', frets: [null, 3, 2, 0, 1] }] },
      { ...list, chords: Array.from({ length: 201 }, () => LIST[0]) },
    ])
      expect(chordList(bad)).toBeNull();
  });
  it('takes whole kinds of shape, or those of a key', () => {
    for (const family of SHAPE_FAMILIES) {
      const all = shapesOfKind(family, null);
      expect(all).toHaveLength(CHORD_SHAPES.filter((shape) => shape.family === family).length);
      expect(chordList({ name: family, chords: all })).not.toBeNull();
    }
    const inG = shapesOfKind('open', { tonic: 'G', minor: false }).map(({ symbol }) => symbol);
    expect(inG).toEqual(expect.arrayContaining(['G', 'C', 'D', 'Em', 'Am']));
    for (const foreign of ['F', 'Dm', 'E', 'A']) expect(inG).not.toContain(foreign);
    expect(inG.every((symbol) => parseChord(symbol) !== null)).toBe(true);
  });
});
