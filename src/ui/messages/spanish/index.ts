import type { Translation } from '../catalogue.ts';
import { CHORDS } from './chords.ts';
import { IMPROVISING, TOLD, TOLD_FACTS } from './improvising.ts';
import { DRILLS } from './drills.ts';
import { MAIN } from './main.ts';
import { WRITTEN_PARTS } from './parts.ts';
import { PIECES } from './pieces.ts';
import { PHRASES } from './phrases.ts';
import { PRACTICE } from './practice.ts';
import { STUDIO } from './studio.ts';
import { REFUSALS } from './refusals.ts';
import { REPORT } from './report.ts';
import { QUESTION } from './question.ts';
import { REST } from './rest.ts';
import { SITTING } from './sitting.ts';
import { TABLES } from './tables.ts';

/** Spanish, as musicians say it; the reader is "tú". */
const SPANISH: Translation = {
  texts: {
    ...MAIN,
    ...PRACTICE,
    ...PHRASES,
    ...PIECES,
    ...REST,
    ...CHORDS,
    ...IMPROVISING,
    ...QUESTION,
    ...WRITTEN_PARTS,
    ...DRILLS,
    ...REPORT,
    ...SITTING,
    ...STUDIO,
  },
  ...TABLES,
  refusals: REFUSALS,
  told: TOLD,
  toldFacts: TOLD_FACTS,
};
export default SPANISH;
