export { askedOf } from './asked.ts';
export { parseChordTest } from './parseChordTest.ts';
export { dueChords, spanOf } from './due.ts';
export { CHORD_TONICS, CHORDS_VERSION, makeChords, type ChordRequest } from './makeChords.ts';
export {
  CHORD_SHAPES,
  holdsItsChord,
  SHAPE_FAMILIES,
  soundingOf,
  type ChordShape,
  type ShapeFamily,
} from './shapes.ts';
