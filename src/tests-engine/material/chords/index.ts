export { askedOf } from './asked.ts';
export { parseChordTest } from './parseChordTest.ts';
export { dueChords, spanOf } from './due.ts';
export {
  chordEntries,
  chordList,
  fretsText,
  MOST_CHORDS,
  readFrets,
  shapesOfKind,
  type ChordEntry,
  type ChordList,
  chordFits,
} from './list.ts';
export { CHORD_COLUMNS, ChordFormatError, chordFrom, rowsOfChords, chordsFrom } from './table.ts';
export { CHORDS_VERSION, makeChords, type ChordRequest } from './makeChords.ts';
export { CHORD_TONICS } from './tonics.ts';
export {
  CHORD_SHAPES,
  holdsItsChord,
  SHAPE_FAMILIES,
  soundingOf,
  type ChordShape,
  type ShapeFamily,
} from './shapes.ts';
