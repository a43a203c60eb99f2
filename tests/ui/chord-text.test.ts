import { CHORD_DOUBTS, CHORD_SENTENCES, speak, t } from '../../src/ui/messages.ts';
import { QUALITIES } from '../../src/music/chords/index.ts';
import { afterEach, describe, expect, it } from 'vitest';
import { adviceText } from '../../src/ui/advice.ts';
import { chordSpoken } from '../../src/ui/chordSpoken.ts';
import { factText } from '../../src/ui/told.ts';
import { chordText, noteIn } from '../../src/ui/chordText.ts';

describe('what is said of chords', () => {
  it('shouts nowhere, leaves nothing empty, and gives a remedy with every doubt', () => {
    const doubts = Object.values(CHORD_DOUBTS);
    const all = [
      ...Object.values(CHORD_SENTENCES),
      t('chords.limits'),
      ...doubts.flatMap((d) => [d.text, d.remedy]),
    ];
    for (const text of all) expect(text.trim() !== '' && !text.includes('!'), text).toBe(true);
    for (const { text, remedy } of doubts) expect(remedy).not.toBe(text);
  });

  it('leaves no value open that the marks give', () => {
    const values = { chord: 'Cm7', pitchClass: 3, instead: 4, from: 'C', to: 'F', ms: 180, count: 2 };
    for (const code of Object.keys(CHORD_SENTENCES))
      expect(chordText({ code, values }), code).not.toMatch(/[{}]/);
    expect(chordText({ code: 'from a newer app', values })).toBe('');
    // Where advice is shown it is shown of chords as well.
    const phrase = { metre: { beats: 4, beatUnit: 4, grouping: [2, 2] }, bars: 1, notes: [] } as const;
    expect(adviceText({ code: 'chord-missed', values }, { phrase })).toBe(
      chordText({ code: 'chord-missed', values }),
    );
  });

  it('names the change and its time, the note that lacks and the one in its place', () => {
    expect(chordText({ code: 'change-late', values: { from: 'Am', to: 'F', ms: 180 } })).toMatch(
      /from Am to F took you 180 ms/,
    );
    expect(
      chordText({ code: 'chord-replaced', values: { chord: 'Cm7', pitchClass: 3, instead: 4 } }),
    ).toMatch(/^Cm7 had E where E♭ belongs/);
  });

  it('spells a note as the chord does, and a stranger with the accidentals that the chord has', () => {
    expect(noteIn('D', 6)).toBe('F♯');
    expect(noteIn('Ebm', 6)).toBe('G♭');
    expect(noteIn('Bb7', 8)).toBe('A♭');
    expect(noteIn('Am/G', 7)).toBe('G');
    expect(noteIn('E', 10)).toBe('A♯');
    expect(noteIn('F', 3)).toBe('E♭');
    expect(noteIn('Gm', 3)).toBe('E♭');
  });

  it('stays readable whatever stands in a record from elsewhere', () => {
    for (const pitch of [12, -1, 127.4, 1e9, -0.5]) expect(noteIn('Gm', pitch)).toMatch(/^[A-G][♯♭]?$/);
    const strange = { chord: 'Cm7', pitchClass: -3.5, instead: 1e12 };
    expect(chordText({ code: 'chord-replaced', values: strange })).not.toMatch(/undefined|NaN/);
    const key = { tonic: 'C', scale: 'major' };
    for (const low of ['x', 1e300, -7])
      expect(factText({ code: 'range', values: { low, high: 60 } }, { key })).not.toMatch(/undefined|NaN/);
  });
});

describe('a chord said aloud', () => {
  afterEach(() => speak('en'));

  it('is its name in words, the bass last', () => {
    expect(chordSpoken('C')).toBe('C major');
    expect(chordSpoken('F#m7')).toBe('F♯ minor seven');
    expect(chordSpoken('D/F#')).toBe('D major over F♯');
    expect(chordSpoken('what')).toBe('what');
  });
  it('has words of its own for every kind, in each language', async () => {
    for (const language of ['en', 'de', 'es'] as const) {
      await speak(language);
      const said = QUALITIES.map(({ suffix }) => chordSpoken(`A${suffix}`));
      expect(new Set(said).size, language).toBe(QUALITIES.length);
      for (const text of said) expect(text).toMatch(/^\S+ \S/);
    }
  });
});
