export * from './types.ts';
export {
  ofNotes,
  verdictCount,
  type AnyMark,
  type ChordMark,
  type ChordVerdict,
  type Description,
  type Fact,
  type KeptForTeacher,
  type NoteMark,
  wasHeard,
} from './anyMark.ts';
export { markTake } from './mark.ts';
export {
  markNotes,
  requestOf,
  targetOf,
  withOtherPitches,
  type MarkNotesOptions,
  type WrittenTarget,
} from './markNotes.ts';
export * from './reading/index.ts';
export * from './scales/index.ts';
export * from './piece/index.ts';
export { overruledMark, type Overruling } from './overruled.ts';
export { parseNoteList, parsePairLine, type Pair } from './parse.ts';
export * from './chords/index.ts';
