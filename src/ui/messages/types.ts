/**
 * A text that depends on a number: `by` names the value, the rest are its forms by the language's plural rules
 * (Intl.PluralRules; English, German and Spanish need `one` and `other`). A form that is missing gives way to `other`.
 */
export type Plural = { readonly by: string; readonly other: string } & {
  readonly [Rule in Exclude<Intl.LDMLPluralRule, 'other'>]?: string;
};

export type Text = string | Plural;

/** What went wrong, and what to do next. */
export interface Explained {
  readonly text: string;
  readonly remedy: string;
}
