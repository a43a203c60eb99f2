import type { Metre } from '../score.ts';

/** What is wrong with the groups of a metre, in words; null: nothing. */
export function inMetre({ beats, beatUnit, grouping }: Metre, where: string): string | null {
  const units = grouping.reduce((sum, group) => sum + group, 0);
  if (units !== beats) return `${where}.grouping adds up to ${units}, not to ${beats}`;
  // Beats of two, three or four quavers can be counted and accompanied; in ones the quavers are the beats.
  const ones = beats > 1 && grouping.every((group) => group === 1);
  if (beatUnit === 8 && !ones && grouping.some((group) => group < 2 || group > 4))
    return `${where}.grouping must be of two, three or four quavers, got ${grouping.join('+')}`;
  return null;
}
