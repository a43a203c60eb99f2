import type { Translation } from '../catalogue.ts';
import { CHORDS } from './chords.ts';
import { MAIN } from './main.ts';
import { PHRASES } from './phrases.ts';
import { PRACTICE } from './practice.ts';
import { REST } from './rest.ts';
import { TABLES } from './tables.ts';

/** Spanish, as musicians say it; the reader is "tú". */
const SPANISH: Translation = { texts: { ...MAIN, ...PRACTICE, ...PHRASES, ...REST, ...CHORDS }, ...TABLES };
export default SPANISH;
