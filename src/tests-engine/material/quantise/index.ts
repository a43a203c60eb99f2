/** From played notes to written ones, and corrections by hand. */
export {
  changeLength,
  cutTo,
  EDIT_STEPS,
  insertAfter,
  insertAt,
  moveAll,
  movePitch,
  moveStart,
  removeNote,
  type Line,
} from './edit.ts';
export { estimateKey } from './key.ts';
export { quantise } from './quantise.ts';
export type { LineNote, Quantised, QuantiseOptions } from './types.ts';
export { lineOf, rangeOf, writeLine } from './write.ts';
