import type { Instrument } from '../../../music/score.ts';
import type { ScaleEntry, ScaleKind, ScaleList } from './types.ts';

/** All keys, in the circle of fifths; each kind is spelled with the fewest signs (F♯ or G♭ …). */
const MAJOR_KEYS = ['C', 'G', 'D', 'A', 'E', 'B', 'F#', 'Db', 'Ab', 'Eb', 'Bb', 'F'];
const MINOR_KEYS = ['A', 'E', 'B', 'F#', 'C#', 'G#', 'Eb', 'Bb', 'F', 'C', 'G', 'D'];
const MINOR = /minor|blues|dorian|diminished/;

/** The twelve tonics of a kind, as they are usually written. */
export const tonicsOf = (kind: ScaleKind): readonly string[] => (MINOR.test(kind) ? MINOR_KEYS : MAJOR_KEYS);

/** An entry in all twelve keys; a string stays, a position does not, since it hangs on the key. */
export const inAllKeys = (entry: ScaleEntry): ScaleEntry[] =>
  tonicsOf(entry.kind).map((tonic) => ({ ...entry, tonic, position: null }));

const PLAIN: Omit<ScaleEntry, 'tonic' | 'kind'> = {
  octaves: 1,
  string: null,
  position: null,
  direction: 'up and down',
  values: 'crotchets',
  tempo: [60, 76],
  swung: false,
  byHeart: true,
};

type Row = readonly [tonics: string, kind: ScaleKind, over?: Partial<ScaleEntry>];
const TWO = { octaves: 2, values: 'quavers' } as const;

/** What each level's own list holds beyond the form of its row. Our own; it follows no exam board's syllabus. */
const LEVELS: readonly { readonly form: Partial<ScaleEntry>; readonly rows: readonly Row[] }[] = [
  {
    form: {},
    rows: [
      ['C G', 'major'],
      ['A E', 'minor pentatonic'],
    ],
  },
  {
    form: { tempo: [72, 88] },
    rows: [
      ['C G F', 'major'],
      ['A E', 'natural minor'],
      ['A E D', 'minor pentatonic'],
      ['G C', 'major arpeggio'],
    ],
  },
  {
    form: { values: 'quavers', tempo: [50, 63] },
    rows: [
      ['C G D F', 'major'],
      ['A E D', 'natural minor'],
      ['G C', 'major pentatonic'],
      ['C G', 'major arpeggio'],
      ['A E', 'minor arpeggio'],
    ],
  },
  {
    form: { ...TWO, tempo: [56, 69] },
    rows: [
      ['G A', 'major'],
      ['A G', 'minor pentatonic'],
      ['A', 'natural minor'],
      ['G', 'major arpeggio'],
      ['A', 'minor arpeggio'],
    ],
  },
  {
    form: { ...TWO, tempo: [63, 76] },
    rows: [
      ['G A C', 'major'],
      ['A G E', 'harmonic minor'],
      ['A E', 'blues', { swung: true }],
      ['G C', 'major arpeggio'],
      ['A E', 'minor arpeggio'],
    ],
  },
  {
    form: { ...TWO, tempo: [72, 88] },
    rows: [
      ['G A Bb C', 'major'],
      ['A B G', 'melodic minor'],
      ['A D', 'dorian'],
      ['G A', 'mixolydian'],
      ['G A', 'dominant seventh arpeggio'],
      ['A B', 'minor arpeggio'],
    ],
  },
  {
    form: { ...TWO, tempo: [84, 104] },
    rows: [
      ['G A Bb B C', 'major'],
      ['G A B C', 'harmonic minor'],
      ['A C', 'melodic minor'],
      ['A C', 'blues', { swung: true }],
      ['G', 'chromatic'],
      ['G A', 'dominant seventh arpeggio'],
      ['A B', 'minor seventh arpeggio'],
    ],
  },
  {
    form: { ...TWO, tempo: [100, 126] },
    rows: [
      ['F# G Ab A Bb B C', 'major'],
      ['F# G A B C', 'melodic minor'],
      ['G A B', 'dorian'],
      ['G A Bb', 'mixolydian'],
      ['G Bb C', 'major seventh arpeggio'],
      ['G A C', 'minor seventh arpeggio'],
      ['G', 'diminished seventh arpeggio'],
    ],
  },
  {
    form: { octaves: 2, values: 'triplets', tempo: [84, 104] },
    rows: [
      ['F F# G Ab A Bb B C', 'major'],
      ['F# G Ab A B C', 'harmonic minor'],
      ['F# G A B C', 'melodic minor'],
      ['E G', 'chromatic'],
      ['G A B', 'diminished seventh arpeggio'],
      ['G A Bb C', 'dominant seventh arpeggio'],
    ],
  },
  {
    form: { octaves: 2, values: 'semiquavers', tempo: [72, 110] },
    rows: [
      ['F F# G Ab A Bb B C Db', 'major'],
      ['F F# G Ab A B C C#', 'harmonic minor'],
      ['F F# G A B C', 'melodic minor'],
      ['G A B C', 'dorian'],
      ['E G', 'chromatic'],
      ['G A Bb C', 'major seventh arpeggio'],
      ['F# G A B', 'minor seventh arpeggio'],
      ['G A B', 'diminished seventh arpeggio'],
    ],
  },
];

/** Our own list for a level, to start with. @param level 1…10 */
export function levelList(level: number, instrument: Instrument): ScaleList {
  const found = LEVELS[level - 1];
  if (!found) throw new RangeError(`level must be a whole number 1…${LEVELS.length}, got ${level}`);
  return {
    name: `level ${level}`,
    instrument,
    entries: found.rows.flatMap(([tonics, kind, over]) =>
      tonics.split(' ').map((tonic) => ({ ...PLAIN, ...found.form, tonic, kind, ...over })),
    ),
  };
}
