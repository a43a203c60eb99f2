export { alignStrums, type AnsweredStrum, type DueChord, type StrumAlignment } from './alignStrums.ts';
export { markChords, strumErrorMs, type ChordMarkOptions } from './markChords.ts';
export { chordReadings, type ChordFactCode } from './readings.ts';
