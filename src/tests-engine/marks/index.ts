export * from './types.ts';
export { DEFAULT_THRESHOLDS, markTake, outcomeOf } from './mark.ts';
export { markTest, soundsAtSec, targetOf, type MarkTestOptions } from './mark-test.ts';
export { parseNoteList, parsePairLine, type Pair } from './parse.ts';
