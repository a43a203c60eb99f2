import type { Translation } from '../catalogue.ts';
import { CHORDS } from './chords.ts';
import { MAIN } from './main.ts';
import { PHRASES } from './phrases.ts';
import { PRACTICE } from './practice.ts';
import { REST } from './rest.ts';
import { TABLES } from './tables.ts';

/** German, as musicians say it; the reader is "du". */
const GERMAN: Translation = { texts: { ...MAIN, ...PRACTICE, ...PHRASES, ...REST, ...CHORDS }, ...TABLES };
export default GERMAN;
