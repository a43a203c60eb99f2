/** The chord vocabulary: names, tones, spelling and function. Imports nothing but itself, so that any room may use it. */
export {
  type Chord,
  type ChordWriting,
  USUAL_WRITING,
  chordClasses,
  chordNames,
  chordSymbol,
  nameAbove,
  parseChord,
  pitchClass,
} from './chord.ts';
export { type ChordFunction, degreeAbove, functionOf, romanNumeral } from './function.ts';
export { type Quality, type QualityId, QUALITIES, quality, qualityOf } from './qualities.ts';
