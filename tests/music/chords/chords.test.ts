import { Chord as TonalChord, Note } from 'tonal';
import { describe, expect, it } from 'vitest';
import {
  QUALITIES,
  chordClasses,
  chordNames,
  chordSymbol,
  functionOf,
  parseChord,
  pitchClass,
  qualityOf,
  romanNumeral,
} from '../../../src/music/chords/index.ts';

const ROOTS = ['C', 'C#', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];
/** tonal writes these otherwise. */
const TONAL: Record<string, string> = { add9: 'Madd9', 'm(maj7)': 'mMaj7' };

describe('chord names', () => {
  it('mean what tonal says they mean, tone for tone and letter for letter, on every root', () => {
    for (const root of ROOTS)
      for (const { id, suffix } of QUALITIES) {
        const theirs = TonalChord.get(root + (TONAL[suffix] ?? suffix));
        expect(theirs.empty, root + suffix).toBe(false);
        expect(chordNames({ root, quality: id }), root + suffix).toEqual(theirs.notes);
        expect(chordClasses({ root, quality: id })).toEqual(theirs.notes.map((n) => Note.chroma(n)));
      }
  });
  it('are read back from every way of writing them', () => {
    for (const root of ROOTS)
      for (const { id, suffix, aliases } of QUALITIES)
        for (const written of [suffix, ...aliases])
          expect(parseChord(root + written), root + written).toEqual({ root, quality: id, bass: null });
    expect(parseChord('C/E')).toEqual({ root: 'C', quality: 'major', bass: 'E' });
    expect(parseChord('D7sus4/A')).toEqual({ root: 'D', quality: 'suspended seventh', bass: 'A' });
    for (const none of ['', 'H', 'Cx', 'm7', 'C/', 'C/H', 'Amaj8']) expect(parseChord(none)).toBeNull();
  });
  it('come back from what they are written as, in either writing', () => {
    for (const { id } of QUALITIES)
      for (const majorSeventh of ['maj7', 'Δ'] as const)
        for (const minor of ['m', '-'] as const) {
          const chord = { root: 'Bb', quality: id, bass: 'D' };
          const written = chordSymbol(chord, { majorSeventh, minor });
          if (id === 'minor major seventh') continue;
          expect(parseChord(written), written).toEqual(chord);
        }
    expect(chordSymbol({ root: 'A', quality: 'minor seventh', bass: null })).toBe('Am7');
    expect(
      chordSymbol({ root: 'C', quality: 'major seventh', bass: null }, { majorSeventh: 'Δ', minor: '-' }),
    ).toBe('CΔ');
  });
  it('are found by their tones', () => {
    expect(qualityOf([0, 7, 3])!.id).toBe('minor');
    expect(qualityOf([0, 1, 2])).toBeNull();
    expect(pitchClass('Cb')).toBe(11);
    expect(pitchClass('H')).toBeNull();
  });
});

describe('chord functions', () => {
  // The diatonic triads of major and minor and their functions as a harmony handbook tabulates them: Open Music
  // Theory (Gotham et al., 2nd ed., from memory): tonic I, iii, vi; predominant ii, IV; dominant V, vii°.
  it.each([
    ['C', 'C', false, 'I', 'tonic'],
    ['Dm', 'C', false, 'ii', 'predominant'],
    ['Em', 'C', false, 'iii', 'tonic'],
    ['F', 'C', false, 'IV', 'predominant'],
    ['G7', 'C', false, 'V7', 'dominant'],
    ['Am', 'C', false, 'vi', 'tonic'],
    ['Bdim', 'C', false, 'vii°', 'dominant'],
    ['Am', 'A', true, 'i', 'tonic'],
    ['Bm7b5', 'A', true, 'iiø7', 'predominant'],
    ['Dm', 'A', true, 'iv', 'predominant'],
    ['E7', 'A', true, 'V7', 'dominant'],
    ['G#dim', 'A', true, 'vii°', 'dominant'],
    ['Bb', 'C', false, 'bVII', 'modal'],
    ['F', 'A', true, 'bVI', 'modal'],
    ['Em', 'A', true, 'v', 'modal'],
    ['F#', 'C', false, '#IV', 'foreign'],
  ] as const)('%s in %s', (symbol, tonic, minor, numeral, does) => {
    const chord = parseChord(symbol)!;
    expect(romanNumeral(chord, tonic)).toBe(numeral);
    expect(functionOf(chord, tonic, minor)).toBe(does);
  });
});
