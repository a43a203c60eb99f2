import type { Translation } from './catalogue.ts';

/** German, as musicians say it. */
const GERMAN: Translation = {
  texts: {
    'nav.practice': 'Üben',
    'practice.title': 'Heute üben',
  },
};
export default GERMAN;
