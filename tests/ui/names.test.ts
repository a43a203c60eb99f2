import { afterEach, describe, expect, it } from 'vitest';
import { ENGLISH } from '../../src/ui/messages/english/index.ts';
import { american, speak, t } from '../../src/ui/messages.ts';
import { keyName, letterOf, ordinal, pitchName, tuningName, withinSentence } from '../../src/ui/names.ts';
import { nameIn } from '../../src/ui/noteNames.ts';
import { noteIn } from '../../src/ui/chordText.ts';
import { checkedSettings } from '../../src/ui/settings/check.ts';
import { change } from '../../src/ui/settings/settings.svelte.ts';

afterEach(async () => {
  change({ language: 'en', noteNames: 'auto' });
  await speak('en');
});

describe('names of notes', () => {
  it('are German with is, es and their exceptions, as LilyPond’s deutsch has them', () => {
    const german = (...names: string[]) => names.map((name) => nameIn('german', name[0]!, name.slice(1)));
    expect(german('C#', 'D##', 'F', 'B', 'B#')).toEqual(['Cis', 'Disis', 'F', 'H', 'His']);
    expect(german('Db', 'Eb', 'Gb', 'Ab', 'Bb', 'Cb')).toEqual(['Des', 'Es', 'Ges', 'As', 'B', 'Ces']);
    expect(german('Dbb', 'Ebb', 'Abb', 'Bbb')).toEqual(['Deses', 'Eses', 'Asas', 'Heses']);
  });
  it('are fixed do with signs', () => {
    expect(['C', 'D', 'E', 'F', 'G', 'A', 'B'].map((letter) => nameIn('do', letter, ''))).toEqual([
      'Do',
      'Re',
      'Mi',
      'Fa',
      'Sol',
      'La',
      'Si',
    ]);
    expect([nameIn('do', 'B', 'b'), nameIn('do', 'F', '#')]).toEqual(['Si♭', 'Fa♯']);
  });
  it('hold wherever a note is named: keys, written notes, heard ones, tones of a chord', () => {
    const said = () => [
      keyName({ tonic: 'Bb', scale: 'major' }),
      letterOf('B3'),
      pitchName(70, { tonic: 'F', scale: 'major' }),
      noteIn('Cm7', 10),
    ];
    expect(said()).toEqual(['B♭ major', 'B', 'B♭', 'B♭']);
    change({ noteNames: 'german' });
    expect(said()).toEqual(['B major', 'H', 'B', 'B']);
    change({ noteNames: 'do' });
    expect(said()).toEqual(['Si♭ major', 'Si', 'Si♭', 'Si♭']);
  });
  it('follow the language where none were chosen', () => {
    change({ language: 'de' });
    expect(letterOf('Bb3')).toBe('B');
    change({ language: 'es' });
    expect(letterOf('Bb3')).toBe('Si♭');
    change({ language: 'de', noteNames: 'english' });
    expect(letterOf('Bb3')).toBe('B♭');
  });
});

describe('lengths of notes', () => {
  it('are American wherever a text names one, and no value’s name is touched', async () => {
    expect(american('a quaver, two semiquavers; Crotchets and {quavers}')).toBe(
      'an eighth note, two sixteenth notes; Quarter notes and {quavers}',
    );
    await speak('en', 'eighth');
    expect(t('place.quaver.second', { beat: 2 })).toBe('second eighth note of beat 2');
    const words = JSON.stringify(Object.values(ENGLISH)).replace(/\{\w+\}/g, '');
    expect(words).toMatch(/quaver/);
    for (const table of Object.values(ENGLISH) as object[])
      for (const text of Object.values(table).flatMap((one) =>
        typeof one === 'string' ? one : Object.values(one as object),
      ))
        expect(american(String(text)).replace(/\{\w+\}/g, '')).not.toMatch(/quaver|crotchet|minim\b|minims/i);
  });
});

describe('a noun within a sentence', () => {
  it('is small, except in German', async () => {
    const guitar = async (language: 'en' | 'de' | 'es') => {
      await speak(language);
      return withinSentence(t('check.instrument.guitar'));
    };
    expect([await guitar('en'), await guitar('de'), await guitar('es')]).toEqual([
      'guitar',
      'Gitarre',
      'guitarra',
    ]);
  });
});

describe('strings and tunings by name', () => {
  it('count with the language’s own endings', () => {
    expect([1, 2, 3, 4, 11, 21].map(ordinal)).toEqual(['1st', '2nd', '3rd', '4th', '11th', '21st']);
  });
  it('say a capo, and keep the usual tuning where an id fits no instrument', () => {
    expect(tuningName('guitar-drop-d+2', 'guitar')).toBe('dropped D, capo at fret 2');
    expect(tuningName('bass-five', 'bass')).toBe('standard, low B');
    expect(tuningName('bass-five', 'guitar')).toBe('standard');
  });
});

it('settings of another kind give way one by one', () => {
  const kept = checkedSettings({
    noteNames: 'latin',
    noteValues: 'eighth',
    mirroredTab: 1,
    volume: { backingDb: -6, melodyDb: 40 },
  });
  expect(kept).toMatchObject({ noteNames: 'auto', noteValues: 'eighth', mirroredTab: false });
  expect(kept.volume).toEqual({ backingDb: 0, melodyDb: 0 });
});
