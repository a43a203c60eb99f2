import type { Metre } from './score.ts';
import { TICKS_PER_QUARTER } from './units.ts';

/**
 * The metres of the ladder. Where the beat unit is a crotchet every unit is a beat and `grouping` tells the
 * stress; where it is a quaver every group is a beat (6/8 has two, 7/8 three of unequal length).
 */
export const METRES = {
  '4/4': { beats: 4, beatUnit: 4, grouping: [2, 2] },
  '3/4': { beats: 3, beatUnit: 4, grouping: [3] },
  '6/8': { beats: 6, beatUnit: 8, grouping: [3, 3] },
  '12/8': { beats: 12, beatUnit: 8, grouping: [3, 3, 3, 3] },
  '5/4': { beats: 5, beatUnit: 4, grouping: [3, 2] },
  '7/8': { beats: 7, beatUnit: 8, grouping: [2, 2, 3] },
} as const satisfies Record<string, Metre>;

export type MetreName = keyof typeof METRES;

/** Beats before the point at which a bar divides in two (its second stress). */
const FIRST_PART: Record<MetreName, number> = { '4/4': 2, '3/4': 1, '6/8': 1, '12/8': 2, '5/4': 3, '7/8': 2 };

/** Ticks of a whole note divided by the metre's unit: a quaver in 6/8, a crotchet in 4/4. */
export const unitTicks = (metre: Metre): number => (TICKS_PER_QUARTER * 4) / metre.beatUnit;

/** Length of one bar in ticks. */
export const barTicks = (metre: Metre): number => metre.beats * unitTicks(metre);

/** Length of each felt beat of a bar, in ticks: 4/4 [480 ×4], 6/8 [720, 720], 7/8 [480, 480, 720]. */
export function beatLengths(metre: Metre): readonly number[] {
  const unit = unitTicks(metre);
  return metre.beatUnit >= 8
    ? metre.grouping.map((units) => units * unit)
    : Array.from({ length: metre.beats }, () => unit);
}

/** The beats of a bar's two parts, e.g. 5/4 as [[480, 480, 480], [480, 480]]. */
export function barParts(name: MetreName): readonly [readonly number[], readonly number[]] {
  const beats = beatLengths(METRES[name]);
  return [beats.slice(0, FIRST_PART[name]), beats.slice(FIRST_PART[name])];
}

/**
 * Where a bar is felt to beat, in ticks from its bar line: every unit where the unit is a crotchet or
 * longer, every group where it is a quaver or shorter (6/8 beats twice, 7/8 as 2+2+3 three times).
 * Common practice, no source.
 */
export function feltBeats(metre: Metre): readonly number[] {
  let at = 0;
  return beatLengths(metre).map((length) => {
    const here = at;
    at += length;
    return here;
  });
}
