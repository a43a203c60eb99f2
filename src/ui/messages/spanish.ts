import type { Translation } from './catalogue.ts';

/** Spanish, as musicians say it. */
const SPANISH: Translation = {
  texts: {
    'nav.practice': 'Práctica',
    'practice.title': 'La práctica de hoy',
  },
};
export default SPANISH;
