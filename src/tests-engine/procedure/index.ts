/** Cue sheets and the procedure of a test. */
export { COUNT_IN_BARS, countInBars } from './count-in.ts';
export { canHalve, halfOf, type Half } from './half.ts';
export { barSec, barTicks, feltBeats, performedSec, swungTicks } from './metre.ts';
export {
  asSounded,
  backingSheet,
  firstNoteSheet,
  hearingSheet,
  performanceSheet,
  phraseSheet,
  wholeSheet,
  type SheetOptions,
} from './sheets.ts';
