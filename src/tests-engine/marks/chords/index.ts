export {
  alignStrums,
  type AnsweredStrum,
  type StrumVerdict,
  type DueChord,
  type StrumAlignment,
} from './alignStrums.ts';
export { markChords, TOLERANCE_MS, strumErrorMs, type ChordMarkOptions } from './markChords.ts';
export { overruledChordMark, type ChordOverruling } from './overruled.ts';
export { chordReadings, type ChordFactCode } from './readings.ts';
