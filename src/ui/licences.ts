export interface Work {
  readonly name: string;
  readonly author: string;
  readonly licence: string;
  readonly url: string;
}

/** Typefaces that are served with the app. */
export const FONTS: readonly Work[] = [
  {
    name: 'Atkinson Hyperlegible Next',
    author: 'Braille Institute of America',
    licence: 'SIL Open Font License 1.1',
    url: 'https://openfontlicense.org',
  },
  {
    name: 'Literata',
    author: 'TypeTogether',
    licence: 'SIL Open Font License 1.1',
    url: 'https://openfontlicense.org',
  },
  {
    name: 'Bravura',
    author: 'Steinberg Media Technologies',
    licence: 'SIL Open Font License 1.1',
    url: 'https://openfontlicense.org',
  },
];

/** Libraries that are part of the app. */
export const LIBRARIES: readonly Work[] = [
  {
    name: 'Svelte',
    author: 'Svelte contributors',
    licence: 'MIT',
    url: 'https://github.com/sveltejs/svelte',
  },
  {
    name: 'SVGuitar (with SVG.js and Rough.js)',
    author: 'Raphael Voellmy; Wout Fierens and contributors; Preet Shihn',
    licence: 'MIT',
    url: 'https://github.com/omnibrain/svguitar',
  },
  {
    name: 'VexFlow',
    author: 'Mohit Muthanna Cheppudira',
    licence: 'MIT',
    url: 'https://github.com/vexflow/vexflow',
  },
  { name: 'Tone.js', author: 'Yotam Mann', licence: 'MIT', url: 'https://github.com/Tonejs/Tone.js' },
  { name: 'Papa Parse', author: 'Matthew Holt', licence: 'MIT', url: 'https://www.papaparse.com' },
  { name: 'pitchy', author: 'Ian Johnson', licence: 'MIT', url: 'https://github.com/ianprime0509/pitchy' },
  { name: 'fft.js', author: 'Fedor Indutny', licence: 'MIT', url: 'https://github.com/indutny/fft.js' },
  { name: 'tonal', author: 'danigb', licence: 'MIT', url: 'https://github.com/tonaljs/tonal' },
  {
    name: 'Dexie.js',
    author: 'David Fahlander',
    licence: 'Apache-2.0',
    url: 'https://github.com/dexie/Dexie.js',
  },
  { name: 'Valibot', author: 'Fabian Hiller', licence: 'MIT', url: 'https://github.com/open-circle/valibot' },
  { name: 'µPlot', author: 'Leon Sorokin', licence: 'MIT', url: 'https://github.com/leeoniya/uPlot' },
];
