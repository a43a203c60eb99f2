export { alignStrums, type AnsweredStrum, type DueChord, type StrumAlignment } from './alignStrums.ts';
export { markChords, strumErrorMs, type ChordMarkOptions } from './markChords.ts';
export { chordReadings } from './readings.ts';
