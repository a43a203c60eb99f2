/** The whole sitting: its setup, its material, its steps and what is told of it. */
export { canHave, defaultSetup, newStation, parseSetup, readSitting, type SetupRequest } from './setup.ts';
export { itemsAt, type Item } from './material.ts';
export {
  choices,
  isComplete,
  itemNow,
  mayBreak,
  piecesLeft,
  sit,
  spentAt,
  startSitting,
  stationNow,
  type SittingEvent,
} from './step.ts';
export {
  compareMarks,
  markOf as markOfPlayed,
  reportOf,
  stationKey,
  type Counted,
  type MarksCompared,
  type SittingReport,
  type StationReport,
} from './report.ts';
