export { askedOfTest, expectedOfTest, markChordTake, type AskedInTask } from './mark.ts';
