/** The door of the practice tests: material, procedure, cue sheets, marks, progress. */
export * from './procedure/index.ts';
export { backingCues, clashes, STYLE_NAMES, type Clashes } from './backing/index.ts';
export * from './material/index.ts';
export * from './marks/index.ts';
export * from './progress/index.ts';
