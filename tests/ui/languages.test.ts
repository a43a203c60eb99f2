import { afterEach, describe, expect, it } from 'vitest';
import { ENGLISH } from '../../src/ui/messages/english/index.ts';
import GERMAN from '../../src/ui/messages/german/index.ts';
import SPANISH from '../../src/ui/messages/spanish/index.ts';
import {
  AUDIO_PROBLEMS,
  dateBy,
  fill,
  languageOf,
  numberText,
  speak,
  speakWith,
  spoken,
  t,
} from '../../src/ui/messages.ts';

afterEach(() => speak('en'));

const forms = (text: unknown): string[] =>
  typeof text === 'string'
    ? [text]
    : Object.entries(text as object).flatMap(([key, form]) => (key === 'by' ? [] : String(form)));
const names = (text: unknown): string[] =>
  [
    ...new Set(forms(text).flatMap((form) => [...form.matchAll(/\{(\w+)\}/g)].map(([, name]) => name!))),
  ].sort();

describe('a language', () => {
  it('says what it has and English where it has nothing, tables included', () => {
    const english = AUDIO_PROBLEMS['no-microphone'].text;
    speakWith({ texts: { 'common.back': 'Zurück' } }, 'de');
    expect([t('common.back'), t('common.next'), AUDIO_PROBLEMS['no-microphone'].text]).toEqual([
      'Zurück',
      'Go on',
      english,
    ]);
    speakWith(
      { audioProblems: { 'no-microphone': { text: 'Kein Mikrofon.', remedy: 'Eins anschließen.' } } },
      'de',
    );
    expect(AUDIO_PROBLEMS['no-microphone'].text).toBe('Kein Mikrofon.');
    expect(Object.keys(AUDIO_PROBLEMS)).toEqual(Object.keys(ENGLISH.audioProblems));
  });
  it('chooses the form of a plural by its own rules', () => {
    const tests = { by: 'count', one: 'ein Test', other: '{count} Tests' };
    speakWith({}, 'de');
    expect([0, 1, 2].map((count) => fill(tests, { count }))).toEqual(['0 Tests', 'ein Test', '2 Tests']);
    // French counts nought as one, Polish has a form of its own for two to four (CLDR plural rules).
    speakWith({}, 'fr');
    expect(fill(tests, { count: 0 })).toBe('ein Test');
    speakWith({}, 'pl');
    expect([2, 5].map((count) => fill({ ...tests, few: '{count} testy' }, { count }))).toEqual([
      '2 testy',
      '5 Tests',
    ]);
  });
  it('writes numbers and dates in its own way, with a true minus', () => {
    const day = Date.UTC(2026, 10, 28);
    const long = { day: 'numeric', month: 'long', timeZone: 'UTC' } as const;
    speakWith({}, 'de');
    expect([numberText(-12.5), numberText(12345), numberText(2, 1), dateBy(long, day)]).toEqual([
      '−12,5',
      '12.345',
      '2,0',
      '28. November',
    ]);
    speakWith({}, 'es');
    expect(dateBy(long, day)).toBe('28 de noviembre');
    expect(spoken()).toBe('es');
  });
  it('is the first of the reader’s that there is, else English', () => {
    expect([['fr', 'de-AT', 'en'], ['es-MX'], ['fr'], undefined].map((wanted) => languageOf(wanted))).toEqual(
      ['de', 'es', 'en', 'en'],
    );
  });
});

describe.each(Object.entries({ GERMAN, SPANISH }))('the catalogue in %s', (_, translation) => {
  it('lacks nothing that English says', () => {
    const lacking = Object.entries(ENGLISH).flatMap(([table, texts]) =>
      Object.keys(texts)
        .filter((key) => !Object.hasOwn(translation[table as keyof typeof translation] ?? {}, key))
        .map((key) => `${table} ${key}`),
    );
    expect(lacking).toEqual([]);
  });
  it('neither shouts nor leaves a text empty, and gives a remedy with every problem', () => {
    for (const [key, text] of Object.entries(translation.texts!))
      for (const form of forms(text)) expect(form.trim() !== '' && !/[!¡]/.test(form), key).toBe(true);
    for (const { text, remedy } of [
      ...Object.values(translation.audioProblems!),
      ...Object.values(translation.notMarked!),
      ...Object.values(translation.storeProblems!),
      ...Object.values(translation.importProblems!),
    ])
      expect(remedy !== '' && remedy !== text, text).toBe(true);
  });
  it('names only texts that there are, and in each the values of the English one', () => {
    for (const [table, texts] of Object.entries(translation))
      for (const [key, text] of Object.entries(texts as object)) {
        const english = (ENGLISH as Readonly<Record<string, Readonly<Record<string, unknown>>>>)[table]?.[
          key
        ];
        expect(english, `${table} ${key}`).toBeDefined();
        // A key may be named in small letters.
        const said = names(text).map((name) => (table === 'scales' && name === 'small' ? 'tonic' : name));
        expect(said, `${table} ${key}`).toEqual(names(english));
      }
  });
});
