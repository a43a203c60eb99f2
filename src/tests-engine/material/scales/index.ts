export { type Fingered, fingering } from './fingering.ts';
export { MOST_ENTRIES, scaleList } from './list.ts';
export { inAllKeys, levelList, tonicsOf } from './lists.ts';
export { type Asked, due, known, nextEntry } from './order.ts';
export { type ScalePitch, scalePitches } from './pitches.ts';
export { SCALE_COLUMNS, ScaleFormatError, entriesFrom, rowsOf } from './table.ts';
export { type ScaleTarget, scaleTarget } from './target.ts';
export {
  type Direction,
  DIRECTIONS,
  NOTE_VALUES,
  type NoteValues,
  SCALE_KINDS,
  type ScaleEntry,
  type ScaleKind,
  type ScaleList,
} from './types.ts';
