/** Chords that were asked for, verified. See README.md. */
export { hearStrums } from './hearStrums.ts';
export { hearStrumsOver } from './overBacking.ts';
export type { StrumsOver, StrumsOverOptions } from './overBacking.ts';
export { soundingNotes } from './sounding.ts';
export { answerChords } from './answer.ts';
export type { AskedSpan } from './answer.ts';
export { createLiveChords, practiseChords } from './live.ts';
export type { LiveAsked, LiveChord, LiveChords } from './live.ts';
export { hearChordTake } from './hearChordTake.ts';
export type { ChordTakeOptions } from './hearChordTake.ts';
export { judgeStrum } from './judge.ts';
export type { HeardStrum } from './heardStrum.ts';
export type { JudgeOptions } from './judge.ts';
export type { StrumOptions } from './strums.ts';
