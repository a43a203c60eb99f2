import type { NamesOf } from '../../music/refusal.ts';
import type { ENGLISH } from './english/index.ts';
import type { Text } from './types.ts';

type English = typeof ENGLISH;

/** All texts of a language. Any text may be a plural here, also where the English one is not. */
export type Catalogue = {
  readonly [Table in keyof English]: Table extends 'texts'
    ? { readonly [Key in keyof English['texts']]: Text }
    : English[Table];
};

/** A language as it is written down: what it lacks is read in English (`tests/ui/languages.test.ts` names it). */
export type Translation = { readonly [Table in keyof Catalogue]?: Partial<Catalogue[Table]> };

export type MessageKey = keyof English['texts'];

type Values<Key extends MessageKey> = NamesOf<English['texts'][Key]>;
/** What follows the key of a text: exactly the values that the English text names, nothing where it names none. */
export type Given<Key extends MessageKey> = [Values<Key>] extends [never]
  ? []
  : [Readonly<Record<Values<Key>, string | number>>];
