/** The chord vocabulary: names, tones, spelling and function, and what is heard of a chord. Imports nothing but `units`, so that any room may use it. */
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
export type {
  AskedChord,
  ChordDoubt,
  ChordFindings,
  ChordVerdict,
  ClassEvidence,
  HeardChords,
  JudgedChord,
  NoteEvidence,
  SoundingShape,
  Strum,
  StrumAnswers,
} from './heard.ts';
export type { TakenAnswer, TakenStrum } from './taken.ts';
export type { ChordTest, TestChord } from './test.ts';
export { type ChordFunction, degreeAbove, functionOf, romanNumeral } from './function.ts';
export { type Quality, type QualityId, QUALITIES, quality, qualityOf } from './qualities.ts';
export { SHAPE_FAMILIES, type ShapeFamily } from './families.ts';
