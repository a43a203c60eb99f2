export * from './types.ts';
export { markTake } from './mark.ts';
export {
  DEFAULT_THRESHOLDS,
  outcomeOf,
  parseThresholds,
  THRESHOLD_RANGE,
  type Thresholds,
} from './thresholds.ts';
export { markTest, soundsAtSec, targetOf, type MarkTestOptions } from './mark-test.ts';
export { parseNoteList, parsePairLine, type Pair } from './parse.ts';
