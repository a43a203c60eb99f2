/**
 * A refusal is a code with its values. Its English sentence, with a remedy, stands in its room's catalogue; the app says
 * it in the reader's language (`ui/refusalText`).
 */

/** A sentence with `{name}` for each value; one that depends on the number `by` has a form for one and for others. */
export type Sentence = string | { readonly by: string; readonly one: string; readonly other: string };
export type Sentences = Readonly<Record<string, Sentence>>;
export type RefusalValues = Readonly<Record<string, string | number>>;

/** The names of the values that a text asks for. */
type Names<Text> = Text extends `${string}{${infer Name}}${infer Rest}` ? Name | Names<Rest> : never;
/** The same of a sentence that may have a form for one. */
export type NamesOf<Text> = Text extends { readonly by: infer By extends string }
  ? By | Names<Text[keyof Text]>
  : Names<Text>;

/** What is thrown with a code of a catalogue: exactly the values that its sentence names, then what caused it. */
export type Thrown<Catalogue> = {
  [Code in keyof Catalogue & string]: [NamesOf<Catalogue[Code]>] extends [never]
    ? [code: Code, values?: Readonly<Record<never, never>>, options?: ErrorOptions]
    : [
        code: Code,
        values: Readonly<Record<NamesOf<Catalogue[Code]>, string | number>>,
        options?: ErrorOptions,
      ];
}[keyof Catalogue & string];

const ENGLISH = new Intl.PluralRules('en');

/** The English sentence with its values, numbers as a program writes them. */
function said(sentence: Sentence, values: RefusalValues): string {
  const form =
    typeof sentence === 'string'
      ? sentence
      : sentence[ENGLISH.select(Number(values[sentence.by])) === 'one' ? 'one' : 'other'];
  return form.replace(/\{(\w+)\}/g, (whole, name: string) => String(values[name] ?? whole));
}

/** Something that came from outside and is not taken; `message` is its English sentence. */
export abstract class Refusal<Code extends string = string> extends Error {
  readonly code: Code;
  readonly values: RefusalValues;
  constructor(
    sentences: Readonly<Record<Code, Sentence>>,
    thrown: readonly [Code, RefusalValues?, ErrorOptions?],
  ) {
    const [code, values = {}, options] = thrown;
    super(said(sentences[code], values), options);
    this.code = code;
    this.values = values;
  }
}
