import { describe, expect, it } from 'vitest';
import { testLink, testToMidi, testToMusicXml } from '../../src/exchange/index.ts';
import { backingCues, LEVELS, levelTest, makeTest, shortCode } from '../../src/tests-engine/index.ts';
import { DEFAULTS } from '../../src/ui/settings/check.ts';
import { fieldsOf, levelOf } from '../../src/ui/screens/phrases/levelFields.ts';
import { openFile, openText } from '../../src/ui/screens/phrases/open.ts';

describe('a level in the form', () => {
  it('comes out as it went in, all ten', () => {
    for (const level of LEVELS) expect(levelOf(fieldsOf(level))).toEqual(level);
  });
  it('changed, makes tests that hold to the change', () => {
    const form = { ...fieldsOf(LEVELS[1]!), name: 'Steps', maxLeap: '4', leapsPerBar: '0', melodyBand: '' };
    const level = levelOf(form);
    for (let seed = 0; seed < 20; seed++) {
      const { phrase } = levelTest(level, { kind: 'melody', seed, instrument: 'guitar' });
      phrase.notes.forEach((note, i) => {
        if (i > 0) expect(Math.abs(note.midi - phrase.notes[i - 1]!.midi)).toBeLessThanOrEqual(4);
      });
    }
  });
  it.each([
    [{ maxLeap: '99' }, 'Largest interval, semitones: at most 24.'],
    [{ maxLeap: 'wide' }, 'Largest interval, semitones: a number is missing or mistyped.'],
    [{ maxLeap: '4.5' }, 'Largest interval, semitones: a whole number.'],
    [{ positions: '7' }, 'Fret of the index finger, from and to: a number is missing or mistyped.'],
    [{ melodyFigures: [] }, 'Figures of melodies: at least one is needed.'],
    [{ name: ' ' }, 'Name: at least one is needed.'],
    [{ tempo: '90, 60, 2' }, 'Tempo: slowest, fastest, step: the slower tempo first.'],
  ])('refuses %j with a sentence that names the field', (wrong, sentence) => {
    expect(() => levelOf({ ...fieldsOf(LEVELS[0]!), ...wrong })).toThrow(sentence);
  });
});

describe('what is opened', () => {
  const test = makeTest({ kind: 'melody', level: 4, seed: 12, instrument: 'guitar' });
  it('a whole link, what stands after its #, and a short code bring back the very same test', () => {
    const link = testLink('https://example.org/twobar/', test);
    for (const text of [
      link,
      ` ${link} `,
      link.split('#')[1]!,
      shortCode(test)!,
      shortCode(test)!.toLowerCase(),
    ])
      expect(openText(text)).toEqual({ test });
  });
  it('a MIDI or MusicXML file gives its notes, whatever it is called', () => {
    for (const bytes of [testToMidi(test), new TextEncoder().encode(testToMusicXml(test))]) {
      const opened = openFile(bytes, DEFAULTS);
      expect(
        'test' in opened && opened.test.phrase.notes.map(({ startTicks, midi }) => [startTicks, midi]),
      ).toEqual(test.phrase.notes.map(({ startTicks, midi }) => [startTicks, midi]));
    }
  });
  it('a phrase of a file has chords of its own behind it, in every metre, mode and length that a file may have', () => {
    for (const [beats, unit] of [
      [2, 2],
      [2, 4],
      [9, 8],
      [11, 8],
      [12, 8],
      [5, 4],
    ] as const)
      for (const mode of ['major', 'minor', 'dorian', 'phrygian', 'lydian', 'mixolydian', 'locrian'])
        for (const bars of [1, 3, 16]) {
          const bar = (step: string) =>
            `<note><pitch><step>${step}</step><octave>3</octave></pitch><duration>${(beats * 8) / unit}</duration></note>`;
          const measures = Array.from(
            { length: bars },
            (_, i) =>
              `<measure number="${i + 1}">${i === 0 ? `<attributes><divisions>2</divisions><key><fifths>-2</fifths><mode>${mode}</mode></key><time><beats>${beats}</beats><beat-type>${unit}</beat-type></time></attributes><sound tempo="160"/>` : ''}${bar('GBFDAEC'[i % 7]!)}</measure>`,
          ).join('');
          const opened = openFile(
            new TextEncoder().encode(
              `<?xml version="1.0"?><score-partwise><part-list/><part id="P1">${measures}</part></score-partwise>`,
            ),
            DEFAULTS,
          );
          if (!('test' in opened)) throw new Error(`${beats}/${unit} ${mode} ${bars}: ${opened.refused}`);
          const { chords } = opened.test.backing!;
          expect(chords.length).toBeGreaterThanOrEqual(bars === 1 ? 1 : 2);
          expect(backingCues(opened.test, 0).some((cue) => cue.type === 'note')).toBe(true);
        }
  });
  it('is called as the file calls it, else as the file is called', () => {
    const named = (bytes: Uint8Array, file = '') => {
      const opened = openFile(bytes, DEFAULTS, file);
      return 'test' in opened ? opened.name : opened.refused;
    };
    const xml = (title?: string) => new TextEncoder().encode(testToMusicXml(test, title));
    expect(named(xml('Drei Töne & eine Pause'))).toBe('Drei Töne & eine Pause');
    expect(named(testToMidi(test, 'Drei Töne & eine Pause'))).toBe('Drei Töne & eine Pause');
    const untitled = new TextEncoder().encode(
      testToMusicXml(test).replace(/<work>.*?<\/work>/, '<movement-title>  </movement-title>'),
    );
    expect(named(untitled, 'blues_in-a 2.musicxml')).toBe('blues in a 2');
    expect(named(untitled)).toBeNull();
    expect(named(xml('x'.repeat(300)))).toHaveLength(80);
  });
  it('what lies an octave beyond the instrument is moved as a whole, and says so; further it is refused', () => {
    const plainClef = (octave: number) =>
      new TextEncoder().encode(
        `<?xml version="1.0"?><score-partwise><part-list/><part id="P1"><measure number="1"><attributes><divisions>1</divisions></attributes>${[
          'A',
          'B',
          'E',
          'D',
        ]
          .map(
            (step) =>
              `<note><pitch><step>${step}</step><octave>${octave}</octave></pitch><duration>1</duration></note>`,
          )
          .join('')}</measure></part></score-partwise>`,
      );
    const at = (octave: number) => {
      const opened = openFile(plainClef(octave), DEFAULTS);
      return 'test' in opened
        ? [opened.octaves, opened.test.phrase.notes.map(({ spelling }) => spelling).join(' ')]
        : opened.refused;
    };
    expect(at(4)).toEqual([0, 'A4 B4 E4 D4']);
    expect(at(6)).toEqual([-1, 'A5 B5 E5 D5']);
    expect(at(2)).toEqual([1, 'A3 B3 E3 D3']);
    expect(at(8)).toMatch(/is beyond the guitar/);
  });
  it.each(['', 'hello', 'https://example.org/', '1M3-00000KF-X', '#test=1abc', '#test=zzzzzzzzzzzz'])(
    'refuses %j with a sentence',
    (text) => {
      const opened = openText(text);
      expect('refused' in opened && opened.refused).toMatch(/^[A-Z].*\.$/);
    },
  );
  it('refuses a file that is neither', () => {
    const opened = openFile(new TextEncoder().encode('hello'), DEFAULTS);
    expect('refused' in opened && opened.refused).toMatch(/^[A-Z].*\.$/);
  });
});
