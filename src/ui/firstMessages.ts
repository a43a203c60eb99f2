import type { Text } from './messages/types.ts';
import type { FIRST } from './messages/english/first.ts';
import type { Given } from './messages/catalogue.ts';
import { t as say, table } from './messages/language.ts';

/** The door to what the first page says, before all other texts have come: the compiler knows which those are. */
export { fill, languageOf, LANGUAGES, numberText, ordinalRule, speak, spoken } from './messages/language.ts';
export type { Language, NoteValues } from './messages/language.ts';

type FirstKey = keyof typeof FIRST.texts;

/** As `t` of `messages.ts`. */
export const t: <Key extends FirstKey>(key: Key, ...values: Given<Key>) => string = say;
export const FIRST_TEXTS: Readonly<Record<FirstKey, Text>> = table('texts');
/** Browser facts and devices that stand in the way. */
export const AUDIO_PROBLEMS = table('audioProblems');
/** A key with its scale: `{tonic}` as it is named, `{small}` in small letters, as German writes minor keys. */
export const SCALES = table('scales');
