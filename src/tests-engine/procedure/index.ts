/** Cue sheets and the procedure of a test. */
export { COUNT_IN_BARS, countInBars } from './count-in.ts';
export { canHalve, halfOf, type Half } from './half.ts';
export { barSec, feltBeats, performedSec, swungTicks } from './metre.ts';
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
export { DEFAULT_SETTINGS, parseSettings, type Manner, type ProcedureSettings } from './settings.ts';
export type {
  Help,
  ProcedureCommand,
  ProcedureEvent,
  ProcedureState,
  SheetName,
  Step,
  Stepped,
  Take,
  VoidReason,
} from './state.ts';
export { startProcedure, step } from './step.ts';
