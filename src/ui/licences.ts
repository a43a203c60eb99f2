import * as v from 'valibot';

/** A package that is part of the app, as the build lists it (`src/building`). */
const Library = v.object({
  name: v.string(),
  version: v.string(),
  author: v.string(),
  licence: v.string(),
  url: v.string(),
  text: v.string(),
});
export type Library = v.InferOutput<typeof Library>;

/** Typefaces by the package that brings them: who drew them, which the package does not say. */
export const TYPEFACES: Readonly<Record<string, { readonly name: string; readonly author: string }>> = {
  '@fontsource/atkinson-hyperlegible-next': {
    name: 'Atkinson Hyperlegible Next',
    author: 'Braille Institute of America',
  },
  '@fontsource/literata': { name: 'Literata', author: 'TypeTogether' },
  '@vexflow-fonts/bravura': { name: 'Bravura', author: 'Steinberg Media Technologies' },
};

/**
 * What the app is built of: typefaces and libraries, each with its terms.
 * @throws TypeError or ValiError where the list cannot be fetched or read
 */
export async function fetchLibraries(): Promise<{ fonts: Library[]; code: Library[] }> {
  const list = v.parse(v.array(Library), await (await fetch('./licences.json')).json());
  const named = list.map((one) => ({ ...one, ...TYPEFACES[one.name], pack: one.name }));
  return {
    fonts: named.filter(({ pack }) => pack in TYPEFACES),
    code: named.filter(({ pack }) => !(pack in TYPEFACES)),
  };
}
