/** The door of the practice tests: tasks, procedure, sheets, material, marks, progress. */
export { feltBeats } from '../music/metre.ts';
export { barSec, performedSec, phraseSec, swungTicks } from '../music/time.ts';
export * from './procedure/index.ts';
export * from './sheets/index.ts';
export * from './take/index.ts';
export * from './tasks/chords/index.ts';
export * from './tasks/index.ts';
export * from './programme/index.ts';
export { backingCues, clashes, harmonised, STYLE_NAMES, type Clashes } from './backing/index.ts';
export * from './material/index.ts';
export * from './marks/index.ts';
export * from './facts/index.ts';
export * from './questions/index.ts';
export * from './progress/index.ts';
export * from './sitting/index.ts';
export * from './plan/index.ts';
