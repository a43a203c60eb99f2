/**
 * The door of written notation: from a phrase in ticks to the signs on a staff (values, dots, ties, rests,
 * triplets, beams, accidentals). Pure; the engraver and the MusicXML export write what it decides.
 */
export { writtenAccidentals, type WrittenAccidental } from './accidentals.ts';
export { barShape, type BarShape } from './bar.ts';
export { notate } from './notation.ts';
export {
  CLEFS,
  fifthsOf,
  inSignature,
  majorKeyOf,
  spelled,
  WRITTEN_OCTAVE_UP,
  writtenOctaveUp,
  type Spelled,
} from './spelling.ts';
export type { BarSigns, NoteValue, Sign } from './types.ts';
export { writtenValue } from './values.ts';
