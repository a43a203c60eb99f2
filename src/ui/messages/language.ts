import type { Catalogue, Given, MessageKey, Translation } from './catalogue.ts';
import { FIRST } from './english/first.ts';
import type { Text } from './types.ts';

/** The languages there are, each by its own name. English comes with the app, the others when they are chosen. */
export const LANGUAGES = { en: 'English', de: 'Deutsch', es: 'Español' } as const;
export type Language = keyof typeof LANGUAGES;

const LOADERS: Readonly<Record<Exclude<Language, 'en'>, () => Promise<Translation>>> = {
  de: async () => (await import('./german/index.ts')).default,
  es: async () => (await import('./spanish/index.ts')).default,
};

/** How lengths of notes are called in English: quaver or eighth note. Other languages have one way. */
export type NoteValues = 'quaver' | 'eighth';

const AMERICAN: readonly (readonly [RegExp, string])[] = [
  [/\bsemibreve/g, 'whole note'],
  [/(?<!\{)\bdemisemiquaver/g, 'thirty-second note'],
  [/(?<!\{)\bsemiquaver/g, 'sixteenth note'],
  [/(?<!\{)\b(a|A) quaver/g, '$1n eighth note'],
  [/(?<!\{)\bquaver/g, 'eighth note'],
  [/\b(D|S)emiquaver/g, 'Sixteenth note'],
  [/\bQuaver/g, 'Eighth note'],
  [/\bcrotchet/g, 'quarter note'],
  [/\bCrotchet/g, 'Quarter note'],
  [/\bminim(?=s?\b)/g, 'half note'],
  [/\bMinim(?=s?\b)/g, 'Half note'],
];
/** An English text with the American names of lengths; `{names}` of values stay. */
export const american = (text: string): string =>
  AMERICAN.reduce((said, [british, name]) => said.replace(british, name), text);

/** A text, a table of texts, or anything of them, word by word. */
function each<T>(texts: T, change: (text: string) => string): T {
  if (typeof texts === 'string') return change(texts) as T;
  const parts = Object.entries(texts as object).map(([key, part]: [string, unknown]) => [
    key,
    key === 'by' ? part : each(part, change),
  ]);
  return Object.fromEntries(parts) as T;
}

/** The English that has come so far: what the first page says, then all of it (`learn`). */
let english: Translation = FIRST;
/** What is spoken now. Plain memory: what stands on the screen is made anew when it changes (`state/language`). */
let now = english as Catalogue;
let translated: (known: Translation) => Translation = () => ({});
let locale = englishOf(globalThis.navigator?.languages);
let rules = new Intl.PluralRules(locale);
let ordinals = new Intl.PluralRules(locale, { type: 'ordinal' });
let numbers = new Intl.NumberFormat(locale);

/** The reader's own English (dates and numbers differ), British where they have none. */
function englishOf(wanted: readonly string[] = []): string {
  return wanted.find((one) => /^en\b/i.test(one)) ?? 'en-GB';
}

/** The first of the reader's languages that there is a catalogue for. */
export function languageOf(wanted: readonly string[] = []): Language {
  const known = wanted
    .map((one) => one.slice(0, 2).toLowerCase())
    .find((one) => Object.hasOwn(LANGUAGES, one));
  return (known as Language | undefined) ?? 'en';
}

/** Speaks `language` from now on. Rejects where its texts cannot be fetched; then nothing has changed. */
export async function speak(language: Language, values: NoteValues = 'quaver'): Promise<void> {
  const british = values === 'quaver';
  if (language !== 'en') return speakWith(await LOADERS[language](), language);
  translated = (known) => (british ? {} : each(known, american));
  speakAs(englishOf(globalThis.navigator?.languages));
}

/** All of the English texts have come, with the first page that says others than the first. */
export function learn(all: Catalogue): void {
  english = all;
  now = together();
}

/** Speaks by these texts, English where they have none; `tag` is their BCP 47 tag. */
export function speakWith(translation: Translation, tag: string): void {
  translated = () => translation;
  speakAs(tag);
}

/** Table by table what is spoken, over the English that is known. */
function together(): Catalogue {
  const over = translated(english);
  const tables = Object.entries(english).map(([name, texts]) => [
    name,
    { ...texts, ...over[name as keyof Translation] },
  ]);
  return Object.fromEntries(tables) as Catalogue;
}

function speakAs(tag: string): void {
  now = together();
  locale = tag;
  rules = new Intl.PluralRules(tag);
  ordinals = new Intl.PluralRules(tag, { type: 'ordinal' });
  numbers = new Intl.NumberFormat(tag);
  makers.clear();
}

/** The BCP 47 tag of what is spoken now: for the page's `lang`, for sorting and for Intl. */
export const spoken = (): string => locale;

/** Which ending an ordinal number has: 1st, 2nd, 3rd, 4th. A language with one ending has `other` alone. */
export function ordinalRule(n: number): 'one' | 'two' | 'few' | 'other' {
  const rule = ordinals.select(n);
  return rule === 'one' || rule === 'two' || rule === 'few' ? rule : 'other';
}

/** A number as the language writes it, with a true minus sign; `digits` after the point, else as many as it has (at most three). */
export function numberText(value: number, digits?: number): string {
  const text =
    digits === undefined
      ? numbers.format(value)
      : value.toLocaleString(locale, { minimumFractionDigits: digits, maximumFractionDigits: digits });
  return text.replace(/^-/, '−');
}

const makers = new Map<string, Intl.DateTimeFormat>();
/** A date by the language's own order. The maker is kept: to make one costs as much as to write a hundred dates. */
export function dateBy(options: Intl.DateTimeFormatOptions, at: number | Date): string {
  const key = JSON.stringify(options);
  const maker = makers.get(key) ?? new Intl.DateTimeFormat(locale, options);
  makers.set(key, maker);
  return maker.format(at);
}

type AnyValues = Readonly<Record<string, string | number>>;

/**
 * The text of `key` with its values put in.
 * The compiler asks for exactly the values that the English text names.
 */
export function t<Key extends MessageKey>(key: Key, ...values: Given<Key>): string {
  return fill(now.texts[key], (values[0] ?? {}) as AnyValues);
}

/**
 * Puts values into `{name}` places, numbers as the language writes them; of a plural the form for its number.
 * A name without a value stays visible, so that a test finds it.
 */
export function fill(text: Text, values: AnyValues): string {
  const form = typeof text === 'string' ? text : (text[rules.select(Number(values[text.by]))] ?? text.other);
  return form.replace(/\{(\w+)\}/g, (whole, name: string) => {
    const value = values[name] ?? whole;
    return typeof value === 'number' ? numberText(value) : value;
  });
}

/** A table of the catalogue whose entries are always those of the language spoken now. */
export function table<Name extends keyof Catalogue>(name: Name): Catalogue[Name] {
  const live = {};
  for (const key of Object.keys(english[name]!))
    Object.defineProperty(live, key, { enumerable: true, get: () => now[name][key as never] });
  return live as Catalogue[Name];
}
