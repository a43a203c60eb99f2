/** What is told of an improvisation: pure functions over notes and chart, no mark. */
export { compareWithEarlier, type Compared } from './compare.ts';
export { chordOver, type Belongs, type ChangeMet, type HarmonyFacts } from './harmony.ts';
export { type Idea } from './ideas.ts';
export { contourOf, type Contour } from './line.ts';
export { improvisedFacts, type ImprovisedFacts } from './lineFacts.ts';
export { entropy } from './rhythm.ts';
export { isStrong, placed, placeOf } from './place.ts';
export { askedOver, strokeFacts, strokeList, strokeSentences, type StrokeFacts } from './strokes.ts';
export { type FactCode, factList, sentences, type ToldCode } from './told.ts';
export type { Place, PlacedNote, PlayedLine, Share } from './types.ts';
