import type { Metre } from '../../music/score.ts';
import { ExchangeError } from '../error.ts';

/** How the metres of the trade are usually grouped; others in threes where they can be, else in ones. */
const GROUPINGS: Readonly<Record<string, readonly number[]>> = {
  '4/4': [2, 2],
  '3/4': [3],
  '5/4': [3, 2],
  '7/8': [2, 2, 3],
  '5/8': [3, 2],
  '8/8': [3, 3, 2],
};

/** The usual grouping of a metre. */
export function usualGrouping(beats: number, beatUnit: number): readonly number[] {
  const known = GROUPINGS[`${beats}/${beatUnit}`];
  if (known) return known;
  if (beatUnit === 8 && beats % 3 === 0) return Array<number>(beats / 3).fill(3);
  return Array<number>(beats).fill(1);
}

/** @throws ExchangeError for a time signature that no test has. */
export function metreOf(beats: number, beatUnit: number, grouping?: readonly number[]): Metre {
  const unit = ([2, 4, 8] as const).find((u) => u === beatUnit);
  if (unit === undefined || !Number.isInteger(beats) || beats < 2 || beats > 12)
    throw new ExchangeError('time-beyond', { signature: `${beats}/${beatUnit}` });
  return { beats, beatUnit: unit, grouping: grouping ?? usualGrouping(beats, unit) };
}

export const barTicksOf = (metre: Metre): number => (metre.beats * 4 * 480) / metre.beatUnit;
