import { Key, Note, Scale } from 'tonal';
import { describe, expect, it } from 'vitest';
import { LEVELS, barTicks, makeTest } from '../../../src/tests-engine/material/index.ts';
import {
  READING_LEVELS,
  type ReadingLevel,
  type ReadingPage,
  ledgerLines,
  makePage,
  readingDifficulty,
  readingPage,
  signatureSize,
} from '../../../src/tests-engine/material/reading/index.ts';
import { fifthsOf, notate } from '../../../src/notation/index.ts';
import { hashOfPages } from './frozen-pages.ts';

const SEEDS = 120;
const make = (level: number, seed: number): ReadingPage =>
  makePage(level, { seed, instrument: seed % 2 === 0 ? 'guitar' : 'bass' });
const mod12 = (n: number): number => ((n % 12) + 12) % 12;

/** Everything a page of a level promises; the names of what it breaks. Written apart from the generator. */
function broken(page: ReadingPage, level: ReadingLevel): string[] {
  const bad: string[] = [];
  const say = (holds: boolean, what: string): void => {
    if (!holds) bad.push(what);
  };
  const { notes, metre, bars } = page.phrase;
  const bar = barTicks(metre);
  const scale = Scale.get(`${page.key.tonic} ${page.key.scale}`).notes.map((note) => Note.chroma(note)!);
  const handAt = (tick: number): number =>
    page.positions.filter((p) => p.bar <= Math.floor(tick / bar)).at(-1)!.fret;

  say(bars >= 4 && bars <= 12, 'four to twelve bars');
  say(notes[0]!.startTicks === 0, 'begins on the first beat');
  let free = 0;
  let outside = 0;
  notes.forEach((note, i) => {
    say(note.startTicks >= free && note.durationTicks > 0, 'notes in order, none overlapping');
    free = note.startTicks + note.durationTicks;
    say(
      note.midi === page.tuning[page.tuning.length - note.string]! + note.fret,
      'string and fret sound the note',
    );
    say(Note.midi(note.spelling) === note.midi, 'spelled as it sounds');
    const hand = handAt(note.startTicks);
    const open = hand === 1 && note.fret === 0;
    say(open || (note.fret >= hand && note.fret < hand + 4), 'under the hand in the stated position');
    const lines = ledgerLines(note.spelling, page.instrument);
    const chromatic = !scale.includes(mod12(note.midi));
    if (chromatic) outside++;
    say(chromatic || (lines >= -level.ledgers[0] && lines <= level.ledgers[1]), 'within the ledger lines');
    if (chromatic)
      say(Math.abs(notes[i + 1]!.midi - note.midi) === 1, 'a foreign note leads on by a semitone');
    if (i > 0 && !chromatic && scale.includes(mod12(notes[i - 1]!.midi)))
      say(Math.abs(note.midi - notes[i - 1]!.midi) <= level.maxLeap, 'no leap beyond the largest');
  });
  say(free <= bar * bars, 'nothing after the last bar line');
  say(mod12(notes.at(-1)!.midi) === Note.chroma(page.key.tonic), 'ends on the tonic');
  const leads = scale.indexOf(mod12(notes.at(-2)!.midi)) + 1;
  say([2, 5, 7].includes(leads), 'comes to it from degree 2, 5 or 7');
  say(
    level.tiesOverBars ||
      notate(page.phrase)
        .flat()
        .every(({ tiedToNext }) => !tiedToNext),
    'no ties before the level that names them',
  );
  const signs = fifthsOf(page.key);
  for (const { spelling } of notes) {
    say(!/^[CF]b\d/.test(spelling) || signs <= -3, 'C flat and F flat in keys of flats only');
    say(!/^[EB]#\d/.test(spelling) || signs >= 2, 'E sharp and B sharp in keys of sharps only');
  }
  say(
    outside >= level.approachNotes[0] && outside <= level.approachNotes[1],
    'as many foreign notes as asked',
  );
  say(
    page.positions.length - 1 >= level.shifts[0] && page.positions.length - 1 <= level.shifts[1],
    'as many shifts as asked',
  );
  page.positions.forEach(({ bar: at, fret }, i) => {
    say(fret >= level.positions[0] && fret <= level.positions[1], 'positions of the level');
    if (i === 0) return;
    const first = notes.findIndex((note) => note.startTicks >= at * bar);
    say(notes[first]!.startTicks - notes[first - 1]!.startTicks >= 240, 'a quaver to move the hand in');
  });
  const { total } = readingDifficulty(page);
  say(total >= level.band![0] && total <= level.band![1], 'difficulty within the band');
  return bad;
}

describe.each(READING_LEVELS.map((level, i) => [i + 1, level] as const))('reading level %i', (n, level) => {
  it(`keeps its promises, seeds 0…${SEEDS - 1}`, () => {
    const faults = new Map<string, number[]>();
    for (let seed = 0; seed < SEEDS; seed++)
      for (const what of new Set(broken(make(n, seed), level)))
        faults.set(what, [...(faults.get(what) ?? []), seed]);
    expect(Object.fromEntries(faults)).toEqual({});
  });

  it('gives other pages for other seeds', () => {
    const pages = new Set(Array.from({ length: SEEDS }, (_, seed) => JSON.stringify(make(n, seed))));
    // Two of the smallest stock (four bars of crotchets) may meet; one in a hundred does not matter to a reader.
    expect(pages.size).toBeGreaterThan(0.99 * SEEDS);
  });
});

describe('reading pages', () => {
  it('are the same on every machine', () => {
    expect(hashOfPages()).toBe('69a3efb5');
  });

  it('rise in difficulty with every level', () => {
    const means = READING_LEVELS.map((_, i) => {
      const totals = Array.from({ length: 200 }, (_, seed) => readingDifficulty(make(i + 1, seed)).total);
      return totals.reduce((sum, total) => sum + total, 0) / totals.length;
    });
    for (let i = 1; i < means.length; i++) expect(means[i]).toBeGreaterThan(means[i - 1]! + 2);
  });

  it('are not the phrases of the ear tests', () => {
    const line = (notes: ReadingPage['phrase']['notes']): string =>
      notes.map((note) => `${note.startTicks}:${note.midi - notes[0]!.midi}`).join(' ');
    const heard = new Set<string>();
    for (let level = 1; level <= LEVELS.length; level++)
      for (let seed = 0; seed < 200; seed++)
        heard.add(line(makeTest({ kind: 'melody', level, seed, instrument: 'guitar' }).phrase.notes));
    for (let level = 1; level <= 10; level++)
      for (let seed = 0; seed < 100; seed++)
        expect(heard.has(line(make(level, seed).phrase.notes))).toBe(false);
  });

  it('answer: from level 4 on the second phrase takes up the rhythm of the first', () => {
    const taken = (page: ReadingPage): boolean => {
      const bar = barTicks(page.phrase.metre);
      const rhythm = (b: number): string =>
        page.phrase.notes
          .filter((note) => Math.floor(note.startTicks / bar) === b)
          .map((note) => note.startTicks - b * bar)
          .join();
      return Array.from({ length: page.phrase.bars - 2 }, (_, b) => b + 2).some(
        (b) => rhythm(b) === rhythm(0),
      );
    };
    for (let level = 4; level <= 10; level++) {
      const shares = Array.from({ length: 100 }, (_, seed) => (taken(make(level, seed)) ? 1 : 0) as number);
      expect(shares.reduce((a, b) => a + b, 0)).toBeGreaterThanOrEqual(85);
    }
  });

  it('carry dynamics from level 4 on, articulation from level 6 on, and none before', () => {
    for (let level = 1; level <= 10; level++) {
      const signs = Array.from({ length: 50 }, (_, seed) => make(level, seed).signs);
      expect(signs.every((list) => list.some(({ kind }) => kind === 'dynamic'))).toBe(level >= 4);
      expect(signs.some((list) => list.some(({ kind }) => kind === 'accent' || kind === 'staccato'))).toBe(
        level >= 6,
      );
    }
  });

  it('refuse a level, a seed and a tempo that are none', () => {
    expect(() => makePage(11, { seed: 1, instrument: 'guitar' })).toThrow(RangeError);
    expect(() => makePage(1, { seed: -1, instrument: 'guitar' })).toThrow('seed must be a whole number');
    expect(() => makePage(1, { seed: 1, instrument: 'guitar', tempoBpm: 500 })).toThrow(
      'tempo must be 30…240',
    );
    expect(() =>
      readingPage({ ...READING_LEVELS[0]!, positions: [20, 20] }, { seed: 1, instrument: 'bass' }),
    ).toThrow('gives no page on this bass');
  });
});

describe('the staff', () => {
  // E. Gould, Behind Bars (2011), from memory: middle C is one ledger line under the treble staff, A5 one over it;
  // guitar and bass are written an octave above what sounds.
  it.each([
    ['C3', 'guitar', -1],
    ['D3', 'guitar', 0],
    ['E2', 'guitar', -3],
    ['F4', 'guitar', 0],
    ['A4', 'guitar', 1],
    ['E5', 'guitar', 3],
    ['E1', 'bass', -1],
    ['G1', 'bass', 0],
    ['C3', 'bass', 1],
  ] as const)('%s on the %s takes %i ledger lines', (spelling, instrument, lines) => {
    expect(ledgerLines(spelling, instrument)).toBe(lines);
  });

  it('knows as many signs in a key as tonal does', () => {
    for (const tonic of ['C', 'G', 'D', 'A', 'E', 'B', 'F#', 'Db', 'Ab', 'Eb', 'Bb', 'F'])
      expect(signatureSize({ tonic, scale: 'major' })).toBe(Math.abs(Key.majorKey(tonic).alteration));
    for (const tonic of ['A', 'E', 'B', 'F#', 'C#', 'G#', 'D', 'G', 'C', 'F', 'Bb'])
      expect(signatureSize({ tonic, scale: 'harmonic minor' })).toBe(
        Math.abs(Key.minorKey(tonic).alteration),
      );
  });
});
