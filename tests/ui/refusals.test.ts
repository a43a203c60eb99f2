import { afterEach, describe, expect, it } from 'vitest';
import { REFUSALS as OF_FILES } from '../../src/exchange/refusals/index.ts';
import { testToMidi, testToMusicXml } from '../../src/exchange/index.ts';
import { makeTest } from '../../src/tests-engine/index.ts';
import { REFUSALS as OF_TESTS } from '../../src/tests-engine/refusals/index.ts';
import { ENGLISH } from '../../src/ui/messages/english/index.ts';
import GERMAN from '../../src/ui/messages/german/index.ts';
import SPANISH from '../../src/ui/messages/spanish/index.ts';
import { speak } from '../../src/ui/messages.ts';
import { pieceDesk } from '../../src/ui/pieces/desk.svelte.ts';
import { refusalText } from '../../src/ui/refusalText.ts';
import { entriesIn } from '../../src/ui/screens/scales/edit.ts';
import { chordsIn, chordTyped } from '../../src/ui/screens/chords/edit.ts';
import { openFile, openText } from '../../src/ui/screens/phrases/open.ts';
import { DEFAULTS } from '../../src/ui/settings/check.ts';
import { change } from '../../src/ui/settings/settings.svelte.ts';

afterEach(async () => {
  change({ language: 'en' });
  await speak('en');
});

const forms = (text: unknown): string[] =>
  typeof text === 'string' ? [text] : Object.values(text as object).map(String);
const names = (text: unknown): string[] =>
  [...new Set(forms(text).flatMap((form) => form.match(/\{\w+\}/g) ?? []))].sort();

describe.each(Object.entries({ ENGLISH, GERMAN, SPANISH }))('in %s', (language, { refusals }) => {
  it('every code has a sentence of its own, with the values it is thrown with', () => {
    const thrown = { ...OF_FILES, ...OF_TESTS };
    expect(Object.keys(thrown)).toHaveLength(Object.keys(OF_FILES).length + Object.keys(OF_TESTS).length);
    expect(Object.keys(refusals!).sort()).toEqual(Object.keys(thrown).sort());
    for (const [code, english] of Object.entries(thrown)) {
      const text = refusals![code as keyof typeof thrown];
      // Which key of a test is wrong is told on the command line alone.
      expect(names(text), code).toEqual(names(english).filter((name) => name !== '{wrong}'));
      for (const form of forms(text).filter((form) => form !== 'parts'))
        expect(form, code).toMatch(/^[\p{Lu}{"„«].*[^.]\.$/u);
      if (language !== 'ENGLISH') expect(text, code).not.toEqual(english);
    }
  });
});

describe('what is refused in German', () => {
  const test = makeTest({ kind: 'melody', level: 3, seed: 5, instrument: 'guitar' });
  const why = (opened: object): unknown => ('refused' in opened ? opened.refused : opened);
  const inGerman = async (): Promise<void> => {
    change({ language: 'de' });
    await speak('de');
  };
  it('is said in German of a damaged file, a foreign one and a note beyond the instrument', async () => {
    await inGerman();
    const midi = testToMidi(test);
    expect(why(openFile(midi.subarray(0, midi.length - 8), DEFAULTS))).toBe(
      'Ein Ton in der MIDI-Datei hört nie auf; exportiere sie noch einmal.',
    );
    expect(why(openFile(midi.subarray(0, 18), DEFAULTS))).toBe(
      'Die MIDI-Datei ist beschädigt oder abgeschnitten; exportiere sie noch einmal.',
    );
    expect(why(openFile(new TextEncoder().encode('RIFF'), DEFAULTS))).toBe(
      'Die Datei ist kein MusicXML; exportiere sie als MusicXML und versuch es noch einmal.',
    );
    const high = testToMusicXml(test).replaceAll(
      /<step>.<\/step>(<alter>.*?<\/alter>)?\s*<octave>\d/g,
      '<step>B</step><octave>9',
    );
    expect(why(openFile(new TextEncoder().encode(high), DEFAULTS))).toMatch(
      /^H\d+ in Takt 1 liegt außerhalb der Gitarre in dieser Stimmung; /,
    );
  });
  it('is said in German of a link, a code, a table and a chord', async () => {
    await inGerman();
    expect(why(openText('#test=1abc'))).toMatch(/^Der Link ist unvollständig/);
    expect(why(openText('1M3-00000KF-X'))).toMatch(/^In diesem Code ist ein Tippfehler/);
    const table = (text: string): Uint8Array => new TextEncoder().encode(text);
    expect(why(entriesIn(table('key,kind\nX,major\n')))).toMatch(/^Zeile 2: In key steht „X“; möglich ist /);
    expect(why(chordsIn(table('chord\n"C')))).toMatch(
      /^In Zeile \d dieser Tabelle steht ein Anführungszeichen/,
    );
    expect(why(chordTyped('Q', ''))).toMatch(/^„Q“ ist kein Akkordname/);
  });
  it('is said in German of the notes of a piece, with the voices to choose from', async () => {
    await inGerman();
    await pieceDesk.bringPart(new TextEncoder().encode('hello'), 'x.musicxml');
    expect(pieceDesk.problem).toMatch(/^Die Datei ist kein MusicXML; /);
    const note = (voice: number, step: string): string =>
      `<note><pitch><step>${step}</step><octave>3</octave></pitch><duration>4</duration><voice>${voice}</voice></note>`;
    const voices = `<score-partwise><part-list/><part id="P1"><measure number="1"><attributes><divisions>1</divisions></attributes>${note(1, 'G')}<backup><duration>4</duration></backup>${note(2, 'B')}</measure></part></score-partwise>`;
    await pieceDesk.bringPart(new TextEncoder().encode(voices), 'x.musicxml');
    expect(pieceDesk.problem).toBe(
      'In Takt 1 klingen zwei Stimmen zugleich; wähle die obere oder die untere.',
    );
    expect(pieceDesk.voices).toBe(2);
  });
  it('writes numbers as German does, and chooses the form of a plural', async () => {
    await inGerman();
    const said = (parts: number): string => refusalText({ code: 'piece-choose', values: { parts } });
    expect([said(1), said(2)]).toEqual([
      'Die Datei hat einen Part mit Noten; wähle ihn.',
      'Die Datei hat 2 Parts mit Noten; wähle einen davon.',
    ]);
    expect(refusalText({ code: 'xml-elements', values: { most: 150_000 } })).toContain('150.000');
  });
});
