import type { Translation } from '../catalogue.ts';

/** Parts of reading and of scales, in German. */
export const WRITTEN_PARTS: NonNullable<Translation['texts']> = {
  'part.read-natural': 'einfache Noten im System',
  'part.read-signature': 'Noten mit Vorzeichen der Tonart',
  'part.read-accidental': 'Versetzungszeichen',
  'part.read-ledger-low': 'Hilfslinien unten',
  'part.read-ledger-high': 'Hilfslinien oben',
  'part.read-position': 'höhere Lagen',
  'part.read-shift': 'gleich nach einem Lagenwechsel',
  'part.read-leap': 'Sprünge ab einer Quinte',
  'part.read-after-rest': 'nach einer Pause',
  'part.read-over-bar': 'nach einem Haltebogen über den Taktstrich',
  'part.read-quick': 'schnelle Noten',
  'part.read-off-beat': 'Noten neben dem Schlag',
  'part.scale-plain': 'Töne auf einer Saite',
  'part.scale-crossing': 'Saitenwechsel',
  'part.scale-shift': 'Lagenwechsel',
  'part.scale-turn': 'die Wende oben',
  'part.scale-position': 'höhere Lagen',
  'part.scale-arpeggio': 'Arpeggien',
  'part.scale-signs': 'Tonarten ab drei Vorzeichen',
  'part.scale-quick': 'Triolen und Sechzehntel',
};
