import type { Instrument } from '../../../music/score.ts';
import type { ScaleEntry } from '../../../music/scales.ts';

export {
  type Direction,
  DIRECTIONS,
  NOTE_VALUES,
  type NoteValues,
  SCALE_KINDS,
  type ScaleEntry,
  type ScaleKind,
} from '../../../music/scales.ts';

/** A list that belongs to a teacher or student. */
export interface ScaleList {
  readonly name: string;
  readonly instrument: Instrument;
  readonly entries: readonly ScaleEntry[];
}
