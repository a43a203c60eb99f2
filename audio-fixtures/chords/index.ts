/** Strums made of real recorded strings, right and wrong, with exact truth. See README.md. */
export { CHORD_KINDS, drawChord, sounding, GUITAR, BASS } from './shapes.ts';
export type { ChordKind, Fingered } from './shapes.ts';
export { FAULTS, RIGHT, spoil } from './faults.ts';
export type { Fault } from './faults.ts';
export { DRIVEN, EFFECTS, makeStrum, RATE } from './strum.ts';
export type { Effect, MadeStrum, StrumOrder } from './strum.ts';
export { playChords } from './playChords.ts';
export type { PlayedStrum } from './playChords.ts';
export { CHORD_BANKS, strumSet } from './sets.ts';
