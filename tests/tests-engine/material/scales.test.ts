import { Chord, Note, Scale } from 'tonal';
import { describe, expect, it } from 'vitest';
import {
  SCALE_COLUMNS,
  SCALE_KINDS,
  ScaleFormatError,
  due,
  entriesFrom,
  inAllKeys,
  known,
  levelList,
  nextEntry,
  rowsOf,
  scalePitches,
  scaleTarget,
  standardTuning,
  tonicsOf,
  type Asked,
  type ScaleEntry,
} from '../../../src/tests-engine/material/index.ts';

import { checkTest } from '../../../src/music/schema/index.ts';

const GUITAR = standardTuning('guitar').strings;
const BASS = standardTuning('bass').strings;
const entry = (over: Partial<ScaleEntry> = {}): ScaleEntry => ({
  ...levelList(4, 'guitar').entries[0]!,
  ...over,
});

describe('pitches of scales and arpeggios', () => {
  it('are those that tonal has under the same names', () => {
    // tonal 6: an independent list of scales and chords.
    const scales = [
      'major',
      'harmonic minor',
      'melodic minor',
      'major pentatonic',
      'minor pentatonic',
      'blues',
      'dorian',
      'mixolydian',
    ] as const;
    for (const kind of scales)
      for (const tonic of tonicsOf(kind)) {
        const own = scalePitches(tonic, kind, 1, Note.midi(`${tonic}3`)!, false).map(({ spelling }) =>
          Note.chroma(spelling),
        );
        expect(own.slice(0, -1), `${tonic} ${kind}`).toEqual(
          Scale.get(`${tonic} ${kind}`).notes.map((n) => Note.chroma(n)),
        );
      }
    const chords = {
      'major arpeggio': '',
      'minor arpeggio': 'm',
      'dominant seventh arpeggio': '7',
      'major seventh arpeggio': 'maj7',
      'minor seventh arpeggio': 'm7',
      'diminished seventh arpeggio': 'dim7',
    } as const;
    for (const [kind, chord] of Object.entries(chords))
      for (const tonic of ['C', 'G', 'Eb', 'F#'])
        expect(
          scalePitches(tonic, kind as keyof typeof chords, 1, Note.midi(`${tonic}3`)!, false)
            .slice(0, -1)
            .map(({ spelling }) => Note.pitchClass(spelling)),
        ).toEqual(Chord.get(`${tonic}${chord}`).notes);
  });

  it('sound as they are spelled, in every key and kind, up and down', () => {
    for (const kind of SCALE_KINDS)
      for (const tonic of tonicsOf(kind))
        for (const falling of [false, true])
          for (const { midi, spelling } of scalePitches(tonic, kind, 2, Note.midi(`${tonic}2`)!, falling))
            expect(Note.midi(spelling), `${tonic} ${kind}`).toBe(midi);
  });

  it('go down the melodic minor as the natural one', () => {
    const { phrase } = scaleTarget(entry({ tonic: 'A', kind: 'melodic minor', octaves: 1 }), GUITAR);
    const names = phrase.notes.map(({ spelling }) => Note.pitchClass(spelling));
    expect(names).toEqual(['A', 'B', 'C', 'D', 'E', 'F#', 'G#', 'A', 'G', 'F', 'E', 'D', 'C', 'B', 'A']);
  });

  it('refuse a tonic that is none', () => {
    expect(() => scalePitches('H', 'major', 1, 60, false)).toThrow('a tonic is a letter');
  });
});

describe('fingerings', () => {
  it('are the ones every guitarist knows', () => {
    // Common practice, no source: G major over two octaves from the sixth string with the second finger, second
    // position, no shift; A minor pentatonic in the fifth position, frets 5 and 8, 7, 7, 7, 8, 8.
    const g = scaleTarget(
      entry({ tonic: 'G', kind: 'major', string: 6, position: 2, direction: 'up' }),
      GUITAR,
    );
    expect(g.phrase.notes.map(({ string, fret }) => `${string}/${fret}`).join(' ')).toBe(
      '6/3 6/5 5/2 5/3 5/5 4/2 4/4 4/5 3/2 3/4 3/5 2/3 2/5 1/2 1/3',
    );
    expect(new Set(g.fingers.map(({ hand }) => hand))).toEqual(new Set([2]));
    const a = scaleTarget(
      entry({ tonic: 'A', kind: 'minor pentatonic', string: 6, position: 5, direction: 'up' }),
      GUITAR,
    );
    expect(a.phrase.notes.map(({ string, fret }) => `${string}/${fret}`).join(' ')).toBe(
      '6/5 6/8 5/5 5/7 4/5 4/7 3/5 3/7 2/5 2/8 1/5',
    );
  });

  it('sound the notes, under a hand of four frets and a stretch of one, in all our lists', () => {
    for (const instrument of ['guitar', 'bass'] as const) {
      const tuning = instrument === 'guitar' ? GUITAR : BASS;
      for (let level = 1; level <= 10; level++)
        for (const one of levelList(level, instrument).entries) {
          const { phrase, fingers } = scaleTarget(one, tuning);
          phrase.notes.forEach((note, i) => {
            expect(tuning[tuning.length - note.string]! + note.fret).toBe(note.midi);
            const { hand, fret } = fingers[i]!;
            if (fret > 0) expect(fret - hand).toBeGreaterThanOrEqual(-1);
            if (fret > 0) expect(fret - hand).toBeLessThanOrEqual(4);
          });
        }
    }
  });

  it('start on the string and in the position asked, and refuse what cannot be played there', () => {
    const c = scaleTarget(entry({ tonic: 'C', kind: 'major', string: 5, position: 3, octaves: 1 }), GUITAR);
    expect(c.fingers[0]).toMatchObject({ string: 5, fret: 3, hand: 3 });
    expect(() => scaleTarget(entry({ tonic: 'C', kind: 'major', string: 1, octaves: 3 }), GUITAR)).toThrow(
      'cannot be played from there',
    );
    expect(() =>
      scaleTarget(entry({ tonic: 'C', kind: 'chromatic', octaves: 3, values: 'crotchets' }), GUITAR),
    ).toThrow('bars of crotchets');
  });

  it('make phrases that every door lets in', () => {
    const { phrase } = scaleTarget(entry(), GUITAR);
    const last = phrase.notes.at(-1)!;
    expect(last.startTicks + last.durationTicks).toBe(phrase.bars * 1920);
    const test = {
      version: 1,
      kind: 'melody',
      instrument: 'guitar',
      tuning: GUITAR,
      level: null,
      seed: null,
      tempoBpm: 80,
      key: { tonic: 'G', scale: 'major' },
      swing: 0.5,
      style: 'rock',
      phrase,
      question: null,
      procedure: { hearings: 2, practiceSec: 10 },
    };
    expect(checkTest(test)).toHaveProperty('test');
  });
});

describe('lists', () => {
  it('hold an entry in all twelve keys at once', () => {
    const all = inAllKeys(entry({ kind: 'harmonic minor', position: 5 }));
    expect(new Set(all.map(({ tonic }) => Note.chroma(tonic))).size).toBe(12);
    expect(all.every(({ position }) => position === null)).toBe(true);
  });

  it('come back from their own rows', () => {
    for (let level = 1; level <= 10; level++) {
      const { entries } = levelList(level, 'guitar');
      expect(entriesFrom([[...SCALE_COLUMNS], ...rowsOf(entries)])).toEqual(entries);
    }
  });

  it('are read from what a teacher types: any order and case, empty cells, a long dash', () => {
    expect(
      entriesFrom([
        ['Kind', 'KEY', 'Tempo', 'string'],
        ['Major', 'f♯', '60 – 80', '6'],
        ['', '', '', ''],
        ['minor arpeggio', 'a', '72', ''],
      ]),
    ).toEqual([
      {
        tonic: 'F#',
        kind: 'major',
        octaves: 1,
        string: 6,
        position: null,
        direction: 'up and down',
        values: 'quavers',
        tempo: [60, 80],
        swung: false,
        byHeart: true,
      },
      {
        tonic: 'A',
        kind: 'minor arpeggio',
        octaves: 1,
        string: null,
        position: null,
        direction: 'up and down',
        values: 'quavers',
        tempo: [72, 72],
        swung: false,
        byHeart: true,
      },
    ]);
  });

  it.each([
    [
      [
        ['key', 'kind'],
        ['H', 'major'],
      ],
      'Line 2: key is "H"; it may be a letter',
    ],
    [
      [
        ['key', 'kind'],
        ['A', 'lydian flat nine'],
      ],
      'Line 2: kind is "lydian flat nine"',
    ],
    [
      [
        ['key', 'kind', 'tempo'],
        ['A', 'major', '80-60'],
      ],
      'Line 2: tempo is "80-60"',
    ],
    [
      [
        ['key', 'kind', 'tempo'],
        ['A', 'major', 'fast'],
      ],
      'Line 2: tempo is "fast"',
    ],
    [
      [
        ['key', 'kind', 'octaves'],
        ['A', 'major', '4'],
      ],
      'Line 2: octaves is "4"; it may be 1 to 3',
    ],
    [
      [
        ['key', 'kind', 'swung'],
        ['A', 'major', 'perhaps'],
      ],
      'Line 2: swung is "perhaps"',
    ],
    [
      [
        ['key', 'kind', 'swung', 'values'],
        ['A', 'major', 'yes', 'triplets'],
      ],
      'Line 2: swung is "yes"',
    ],
    [
      [
        ['key', 'colour'],
        ['A', 'red'],
      ],
      'a column "colour"',
    ],
    [[['key'], ['A']], 'no column "kind"'],
    [[[]], 'This table is empty'],
  ])('refuse %j with a sentence', (rows, message) => {
    expect(() => entriesFrom(rows)).toThrow(ScaleFormatError);
    expect(() => entriesFrom(rows)).toThrow(message);
  });
});

describe('an examiner’s order', () => {
  const day = (d: number, mark: number | null): Asked => ({ day: d, mark });
  const draws = (histories: Asked[][], today: number, n = 3000): number[] => {
    const counts = histories.map(() => 0);
    let last: number | null = null;
    for (let seed = 0; seed < n; seed++) {
      last = nextEntry(histories, last, today, seed);
      counts[last]!++;
    }
    return counts.map((count) => count / n);
  };

  it('cannot be foreseen: with nothing known all come alike, and never the same twice running', () => {
    const shares = draws([[], [], [], [], []], 0);
    for (const share of shares) expect(Math.abs(share - 0.2)).toBeLessThan(0.03);
    let last: number | null = null;
    for (let seed = 0; seed < 500; seed++) {
      const next = nextEntry([[], [], []], last, 0, seed);
      expect(next).not.toBe(last);
      last = next;
    }
  });

  it('asks weak ones more often, and leaves none out', () => {
    const well = [day(0, 95), day(3, 99)];
    // One of five would be asked in a fifth of the draws.
    const shares = draws([[day(0, 40), day(3, 45)], well, well, well, well], 10);
    expect(shares[0]).toBeGreaterThan(1.5 * 0.2);
    expect(Math.min(...shares)).toBeGreaterThan(0.05);
  });

  it('brings what went well back after days: the longer the better it went', () => {
    const once = [day(0, 95)];
    const often = [day(-8, 95), day(-6, 95), day(-3, 95), day(0, 95)];
    expect(due(once, 1)).toBe(1);
    expect(due(often, 1)).toBeLessThan(0.5);
    expect(due(often, 8)).toBe(1);
    expect(known(often)).toBeGreaterThan(known(once));
    expect(known([day(0, null)])).toBe(known([]));
  });

  it('asks the only entry of a list of one, and nothing of an empty one', () => {
    expect(nextEntry([[]], 0, 0, 1)).toBe(0);
    expect(() => nextEntry([], null, 0, 1)).toThrow(RangeError);
  });
});
