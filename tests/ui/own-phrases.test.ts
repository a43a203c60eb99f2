import { describe, expect, it } from 'vitest';
import { testLink, testToMidi, testToMusicXml } from '../../src/exchange/index.ts';
import { LEVELS, levelTest, makeTest, shortCode } from '../../src/tests-engine/index.ts';
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
