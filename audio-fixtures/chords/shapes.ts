import type { Random } from '../random.ts';

/** Kinds of chord that the tables keep apart. */
export const CHORD_KINDS = [
  'open',
  'barre',
  'power',
  'seventh',
  'extended',
  'slash',
  'triad',
  'arpeggiated',
  'double stop',
] as const;
export type ChordKind = (typeof CHORD_KINDS)[number];

/** A fingered chord: one entry a string, lowest first; null where a string is not struck. */
export interface Fingered {
  readonly kind: ChordKind;
  readonly name: string;
  readonly strings: readonly (number | null)[];
  readonly tuning: readonly number[];
  /** Classes above the root: the third (or what stands for it), null for a power chord. */
  readonly root: number;
  readonly third: number | null;
  readonly instrument: 'guitar' | 'bass';
}

/** Sounding MIDI numbers of the open strings. */
export const GUITAR = [40, 45, 50, 55, 59, 64] as const;
export const BASS = [28, 33, 38, 43] as const;
/** Tunings that players' handbooks list; common practice, no source. */
const TUNINGS: readonly (readonly number[])[] = [
  [38, 45, 50, 55, 59, 64],
  [39, 44, 49, 54, 58, 63],
  [38, 43, 50, 55, 59, 62],
  [38, 45, 50, 54, 57, 62],
  [38, 45, 50, 55, 57, 62],
];

const LETTERS: Record<string, number> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
const classOf = (name: string): number =>
  (LETTERS[name[0]!]! + (name[1] === '#' ? 1 : name[1] === 'b' ? 11 : 0)) % 12;

/** "x32010" as frets, lowest string first. Fingerings every beginner's handbook has; common practice, no source. */
const OPEN: Record<string, string> = {
  C: 'x32010',
  A: 'x02220',
  G: '320003',
  E: '022100',
  D: 'xx0232',
  Am: 'x02210',
  Em: '022000',
  Dm: 'xx0231',
  F: 'xx3211',
  Asus4: 'x02230',
  Dsus4: 'xx0233',
  Esus4: '022200',
  Asus2: 'x02200',
  Dsus2: 'xx0230',
};
const SEVENTHS: Record<string, string> = {
  C7: 'x32310',
  A7: 'x02020',
  G7: '320001',
  E7: '020100',
  D7: 'xx0212',
  B7: 'x21202',
  Am7: 'x02010',
  Em7: '022030',
  Dm7: 'xx0211',
  Cmaj7: 'x32000',
  Fmaj7: 'xx3210',
  Dmaj7: 'xx0222',
  Amaj7: 'x02120',
  Gmaj7: '320002',
};
const SLASH: Record<string, string> = {
  'D/F#': '2x0232',
  'C/G': '332010',
  'G/B': 'x20033',
  'C/E': '032010',
  'Am/G': '3x2210',
  'D/A': 'x00232',
  'F/C': 'x33211',
  'A/C#': 'x42220',
  'E/G#': '4x2400',
  'Am/C': 'x3221x',
};
/** Movable, from the fret of the root: bottom string of the shape, its frets, its quality. */
const BARRE = [
  ['', '022100', 0, 4],
  ['m', '022000', 0, 3],
  ['', 'x02220', 1, 4],
  ['m', 'x02210', 1, 3],
  ['sus4', '022200', 0, 5],
] as const;
const MOVABLE_SEVENTHS = [
  ['7', '020100', 0, 4],
  ['m7', '020000', 0, 3],
  ['maj7', '021100', 0, 4],
  ['7', 'x02020', 1, 4],
  ['m7', 'x02010', 1, 3],
  ['maj7', 'x02120', 1, 4],
] as const;
/** Root on the fifth or sixth string at fret 3 of these, shifted. */
const EXTENDED = [
  ['9', 'x32333', 1, 4],
  ['m9', 'x31333', 1, 3],
  ['maj9', 'x32433', 1, 4],
  ['6/9', 'x32233', 1, 4],
  ['7#9', 'x3234x', 1, 4],
  ['13', '3x345x', 0, 4],
  ['m7b5', 'x3434x', 1, 3],
  ['add9', 'x32030', 1, 4],
  ['m6', '3x233x', 0, 3],
  ['dim7', 'x3424x', 1, 3],
  ['aug', 'x3211x', 1, 4],
] as const;

const NAMES = ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'] as const;

function fretted(frets: string, tuning: readonly number[], by = 0): (number | null)[] {
  return [...frets].map((f, i) => (f === 'x' ? null : tuning[i]! + Number(f) + by));
}

function named(kind: ChordKind, table: Record<string, string>, random: Random): Fingered {
  const name = random.pick(Object.keys(table));
  const root = classOf(name);
  const minor = /^[A-G][#b]?m(?!aj)/.test(name);
  const third = name.includes('sus4') ? 5 : name.includes('sus2') ? 2 : minor ? 3 : 4;
  return {
    kind,
    name,
    strings: fretted(table[name]!, GUITAR),
    tuning: GUITAR,
    root,
    third,
    instrument: 'guitar',
  };
}

function movable(
  kind: ChordKind,
  table: readonly (readonly [string, string, number, number])[],
  random: Random,
  low: number,
  high: number,
): Fingered {
  const [quality, frets, bottom, third] = random.pick(table);
  const by = random.whole(low, high);
  const strings = fretted(frets, GUITAR, by);
  const root = strings[bottom]! % 12;
  return { kind, name: NAMES[root] + quality, strings, tuning: GUITAR, root, third, instrument: 'guitar' };
}

function power(random: Random): Fingered {
  const tuning = random.chance(0.25) ? TUNINGS[0]! : GUITAR;
  const bottom = random.whole(0, 1);
  const root = tuning[bottom]! + random.whole(0, 9);
  const strings = tuning.map((_, i) =>
    i === bottom ? root : i === bottom + 1 ? root + 7 : i === bottom + 2 ? root + 12 : null,
  );
  if (random.chance(0.4)) strings[bottom + 2] = null;
  return {
    kind: 'power',
    name: `${NAMES[root % 12]}5`,
    strings,
    tuning,
    root: root % 12,
    third: null,
    instrument: 'guitar',
  };
}

/** Three neighbouring strings, close or inverted; in any tuning. */
function triad(random: Random): Fingered {
  const tuning = random.chance(0.4) ? random.pick(TUNINGS) : GUITAR;
  const third = random.pick([3, 4]);
  const above = [0, third, 7];
  for (;;) {
    const bottom = random.whole(1, 3);
    const root = random.whole(0, 11);
    const inversion = random.whole(0, 2);
    const notes: number[] = [];
    let at = tuning[bottom]! + random.whole(0, 9);
    while (at % 12 !== (root + above[inversion]!) % 12) at++;
    for (let k = 0; k < 3; k++) {
      while (at % 12 !== (root + above[(inversion + k) % 3]!) % 12) at++;
      notes.push(at);
    }
    if (notes.some((note, k) => note < tuning[bottom + k]! || note > tuning[bottom + k]! + 12)) continue;
    const strings = tuning.map((_, i) => (i >= bottom && i < bottom + 3 ? notes[i - bottom]! : null));
    return {
      kind: 'triad',
      name: `${NAMES[root]}${third === 3 ? 'm' : ''} triad`,
      strings,
      tuning,
      root,
      third,
      instrument: 'guitar',
    };
  }
}

/** Two strings of a bass: thirds, fourths, fifths, sixths, octaves and tenths, from the fifth fret up. */
function doubleStop(random: Random): Fingered {
  const bottom = random.whole(0, 2);
  const root = BASS[bottom]! + random.whole(5, 12);
  const interval = random.pick([3, 4, 5, 7, 8, 9, 12, 15, 16]);
  const top = Math.min(3, bottom + (interval > 9 ? 2 : 1));
  const strings = BASS.map((_, i) => (i === bottom ? root : i === top ? root + interval : null));
  return {
    kind: 'double stop',
    name: `${NAMES[root % 12]}+${interval}`,
    strings,
    tuning: BASS,
    root: root % 12,
    third: interval % 12,
    instrument: 'bass',
  };
}

/** Draws a chord of one kind. */
export function drawChord(kind: ChordKind, random: Random): Fingered {
  switch (kind) {
    case 'open':
      return named('open', OPEN, random);
    case 'barre':
      return movable('barre', BARRE, random, 1, 9);
    case 'power':
      return power(random);
    case 'seventh':
      return random.chance(0.5)
        ? named('seventh', SEVENTHS, random)
        : movable('seventh', MOVABLE_SEVENTHS, random, 1, 8);
    case 'extended':
      return movable('extended', EXTENDED, random, 0, 6);
    case 'slash':
      return named('slash', SLASH, random);
    case 'triad':
      return triad(random);
    case 'arpeggiated': {
      const under = drawChord(random.pick(['open', 'barre', 'seventh'] as const), random);
      return { ...under, kind: 'arpeggiated' };
    }
    case 'double stop':
      return doubleStop(random);
  }
}

/** What sounds, lowest string first. */
export const sounding = (chord: { readonly strings: readonly (number | null)[] }): number[] =>
  chord.strings.filter((note): note is number => note !== null);
