import { upperMedian } from '../../music/numbers.ts';
import { binOf, highestTooth, toothAt } from '../pitch/comb.ts';
import type { Around, Pieces } from '../pitch/comb.ts';
import { growth } from '../pitch/growth.ts';
import { LOWEST } from '../pitch/salience.ts';
import { ms } from '../signal/prepared.ts';

/**
 * How partials grow from the 56 ms before an attack to the 56 ms after, decibels over ten (`growMany`: a share): the
 * first four of the pitch heard after (`grow`), its fifth to twelfth, which a string loses first and a pluck renews
 * (`growHigh`), how many of twelve grow by 3 dB (`growMany`), and the first four of the pitch heard before (`growOld`).
 * In a take's last 8 ms `growHigh` and `growOld` are NaN, which the trees take for a large value.
 */
export const PARTIAL_GROWTH = ['grow', 'growHigh', 'growMany', 'growOld'] as const;

const COUNTED = 12;
const FIRST_HIGH = 4;
const GROWN_DB = 3;
/** Partials under this share of the strongest (amplitude^½) count as that strong. */
const FLOOR = 0.02;
/** No partial is looked for over 21 kHz, where {@link toothAt} ends. */
const LAST_BIN = 3900;

/** What {@link partialGrowth} wants the spectra of. @param t attack, samples at the working rate */
export const growthPieces = (t: number): Pieces => ({
  before: [t - ms(60), t - ms(4)],
  after: [t + ms(8), t + ms(64)],
});

/** @param before @param after indices of the pitches heard before and after. @returns as {@link PARTIAL_GROWTH} */
export function partialGrowth({ before: old, after: now }: Around, before: number, after: number): number[] {
  const floor = FLOOR * highestTooth(now) + 1e-4;
  const rises = (midi: number, count: number): number[] => {
    const out: number[] = [];
    for (let h = 1; h <= count && h * binOf(midi) <= LAST_BIN; h++) {
      const bin = h * binOf(midi);
      out.push(40 * Math.log10((toothAt(now, bin) + floor) / (toothAt(old, bin) + floor)));
    }
    return out;
  };
  const all = rises(LOWEST + after, COUNTED);
  return [
    growth(old, now, LOWEST + after) / 10,
    upperMedian(all.slice(FIRST_HIGH)) / 10,
    all.filter((rise) => rise > GROWN_DB).length / Math.max(1, all.length),
    upperMedian(rises(LOWEST + before, FIRST_HIGH)) / 10,
  ];
}
