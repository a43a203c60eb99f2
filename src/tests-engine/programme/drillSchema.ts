import * as v from 'valibot';
import { instrument, LIMITS, list, number, whole } from '../../music/schema/index.ts';
import { STYLES, type Style } from '../../music/styles.ts';
import { POSITIONS, type PositionName } from '../material/index.ts';

/** One thing to practise by itself. `null` leaves it as the level has it. */
export interface Drill {
  /** Chosen intervals, one bar called and answered, or one rhythm figure. */
  readonly what: 'intervals' | 'answer' | 'figure';
  readonly level: number;
  /** Semitones between neighbours, either way; of `intervals`. */
  readonly intervals: readonly number[];
  /** A name of `FIGURES`; of `figure`. */
  readonly figure: string;
  readonly tempoBpm: number | null;
  readonly style: Style | null;
  /** Length of the practice window, seconds. */
  readonly practiceSec: number | null;
  readonly position: PositionName | null;
}

/** Figures that fill bars of four by themselves, the easiest first. */
export const DRILL_FIGURES = [
  'quavers',
  'dotted',
  'quaver-crotchet-quaver',
  'quaver-dotted',
  'rest-quaver',
  'triplet',
  'four-semis',
  'quaver-two-semis',
  'two-semis-quaver',
  'dotted-semi',
] as const;
/** Intervals that may be chosen: a semitone to an octave. */
export const DRILL_INTERVALS = [1, 2, 3, 4, 5, 7, 8, 9, 12] as const;

export const FIRST_DRILL: Drill = {
  what: 'intervals',
  level: 2,
  intervals: [3, 4],
  figure: 'quavers',
  ...{ tempoBpm: null, style: null, practiceSec: null, position: null },
};

const orNull = <S extends v.GenericSchema>(schema: S) => v.nullable(schema);
export const drillSchema = v.strictObject({
  what: v.picklist(['intervals', 'answer', 'figure']),
  level: whole(LIMITS.level),
  intervals: list(v.picklist(DRILL_INTERVALS), [1, DRILL_INTERVALS.length]),
  figure: v.picklist(DRILL_FIGURES),
  tempoBpm: orNull(number(LIMITS.tempoBpm)),
  style: orNull(v.picklist(STYLES)),
  practiceSec: orNull(number(LIMITS.practiceSec)),
  position: orNull(v.picklist(Object.keys(POSITIONS) as PositionName[])),
});
export const isDrill = (value: unknown): boolean => v.safeParse(drillSchema, value).success;
export const drillPlayer = { instrument, tuning: list(whole(LIMITS.openStringMidi), LIMITS.strings) };
