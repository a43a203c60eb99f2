export { askedOfTest, expectedOfTest, markChordTake, type AskedInTask } from './mark.ts';
export { barSecOf, chordAt, chordsAtSec, isTimed } from './slots.ts';
export { takenChords } from './taken.ts';
