import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { pieceFromMidi, pieceFromMusicXml, testToMusicXml, TwoVoices } from '../../../src/exchange/index.ts';
import { barAt } from '../../../src/music/piece.ts';
import { makeTest } from '../../../src/tests-engine/index.ts';
import { makePiece } from '../../support/piece.ts';

const FOLDER = resolve(import.meta.dirname, 'files');
const GUITAR = { instrument: 'guitar', tuning: [40, 45, 50, 55, 59, 64] } as const;
const read = (name: string, choice: { readonly voice?: number } = {}) =>
  (name.endsWith('.mid') ? pieceFromMidi : pieceFromMusicXml)(
    new Uint8Array(readFileSync(`${FOLDER}/${name}`)),
    { ...GUITAR, ...choice },
  );
const bars = (name: string): string =>
  read(name)
    .bars.map(
      ({ printed, durationTicks }) => `${printed}${durationTicks === 1920 ? '' : `:${durationTicks}`}`,
    )
    .join(' ');
const pitches = (name: string): string =>
  read(name)
    .notes.map(({ midi }) => midi)
    .join(' ');

const [A, B, C, D] = ['57 60 64 60', '55 59 62 59', '53 57 60 57', '52 55 59 62'];

/**
 * Short lines of our own, written by MuseScore 3.2.3 and LilyPond 2.24 of Debian (files/make.py, make.sh): what other
 * programs make of repeats, endings, pick-ups, tempi, chords and voices.
 */
describe('parts that notation programs wrote', () => {
  it('plays repeats and endings out, in MusicXML and in MIDI alike', () => {
    expect(bars('volta.musicxml')).toBe('1 2 3 2 4 5');
    expect(pitches('volta.musicxml')).toBe([A, B, C, B, D, '57'].join(' '));
    expect(pitches('volta.mid')).toBe(pitches('volta.musicxml'));
    expect(bars('volta.mid')).toBe('1 2 3 4 5 6');
    expect(pitches('lily-volta.mid')).toBe([A, B, A, C, '57'].join(' '));
  });

  it('keeps every bar as long as it is written, also where it ends with rests, in our own files', () => {
    for (const [seed, level] of [
      [815, 3],
      [4711, 3],
      [12, 6],
    ] as const) {
      const { notes, barSecs, tempoBpm } = makePiece(seed, { seconds: 60, level, tempoBpm: 100 });
      const plain = makeTest({ kind: 'melody', level: 1, seed: 1, instrument: 'guitar', tempoBpm });
      const written = {
        ...plain,
        backing: { arranger: 2 as const, chords: [] },
        swing: 0.5,
        phrase: { ...plain.phrase, bars: barSecs.length - 1, notes },
      };
      const part = pieceFromMusicXml(new TextEncoder().encode(testToMusicXml(written, 'Own')), GUITAR);
      expect(part.bars.map(({ durationTicks }) => durationTicks)).toEqual(barSecs.slice(1).map(() => 1920));
      expect(part.notes.map(({ startTicks, midi }) => [startTicks, midi])).toEqual(
        notes.map(({ startTicks, midi }) => [startTicks, midi]),
      );
    }
  });
  it('plays da capo al Fine', () => {
    expect(bars('da-capo.musicxml')).toBe('1 2 3 1 2');
    expect(pitches('da-capo.musicxml')).toBe([A, B, C, A, B].join(' '));
  });

  it('keeps a pick-up as bar 0 where the file tells it; MIDI does not', () => {
    expect(bars('pick-up.mxl')).toBe('0:480 1 2 3');
    const { notes, bars: all } = read('pick-up.mxl');
    expect(notes.map(({ startTicks }) => barAt(all, startTicks)).join('')).toBe('0111122223');
    // The same notes at the same times, with bars counted from the first of them.
    const midi = read('lily-pick-up.mid');
    expect(midi.notes.map(({ startTicks, midi: m }) => [startTicks, m])).toEqual(
      notes.map(({ startTicks, midi: m }) => [startTicks, m]),
    );
    expect(bars('lily-pick-up.mid')).toBe('1 2 3 4');
  });

  it('reads tempi where they change', () => {
    const changed = [
      { atTicks: 0, bpm: 80 },
      { atTicks: 3840, bpm: 120 },
    ];
    expect(read('tempi.musicxml').tempi).toEqual(changed);
    expect(read('tempi.mid').tempi).toEqual(changed);
    expect(read('volta.mid').tempi).toEqual([{ atTicks: 0, bpm: 100 }]);
    expect(read('lily-chords.mid').tempi).toEqual([
      { atTicks: 0, bpm: 72 },
      { atTicks: 1440, bpm: 96 },
    ]);
  });

  it('reads chords as notes that begin together, each on a string of its own', () => {
    for (const name of ['chords.mxl', 'lily-chords.mid']) {
      const { notes } = read(name);
      const first = notes.filter(({ startTicks }) => startTicks === 0);
      expect(
        first.map(({ midi }) => midi),
        name,
      ).toEqual([45, 52, 57]);
      expect(new Set(first.map(({ string }) => string)).size).toBe(3);
    }
  });

  it('refuses two voices in a sentence, and takes either of them apart', () => {
    expect(() => read('voices.musicxml')).toThrow(TwoVoices);
    expect(() => read('voices.musicxml')).toThrow(
      'Two voices sound at once in bar 1; choose the upper or the lower one.',
    );
    const voice = (k: number) => read('voices.musicxml', { voice: k }).notes.map(({ midi }) => midi);
    expect(voice(0)).toEqual([57, 60, 64, 60, 57]);
    expect(voice(1)).toEqual([45, 52]);
  });

  it('says in a sentence what is no part', () => {
    const bytes = (text: string) => new TextEncoder().encode(text);
    expect(() => pieceFromMusicXml(bytes('<a/>'), GUITAR)).toThrow('The file is not MusicXML');
    expect(() => pieceFromMidi(bytes('RIFF....'), GUITAR)).toThrow('The file is not a Standard MIDI File');
    const whole = new Uint8Array(readFileSync(`${FOLDER}/tempi.mid`));
    expect(() => pieceFromMidi(whole.subarray(0, 90), GUITAR)).toThrow(/damaged or cut short|never|no note/);
    expect(() => pieceFromMidi(whole, { ...GUITAR, part: 3 })).toThrow('There is no note in the file');
  });
});
