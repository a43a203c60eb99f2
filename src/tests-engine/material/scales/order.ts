import { makeRandom } from '../random/random.ts';

/** What is known of one entry of a list: how it went, when. */
export interface Asked {
  /** Days since any fixed day; fractions allowed. */
  readonly day: number;
  /** 0…100, or null where the take was not marked. */
  readonly mark: number | null;
}

/** Never asked counts as this well known, of 1. */
const UNKNOWN = 0.4;
/** Share of the newest take in what is known. */
const NEWEST = 0.5;
/** A mark from which a time counts as well played, and how the wait until the next grows with each in a row: 1, 2, 4 … days. */
const WELL = 85;
const LONGEST_WAIT_DAYS = 30;
/** A weight never falls under this: whatever is on the list can be asked at any time. */
const LEAST = 0.12;
/** Asked again within the same sitting of practice: this much less likely. */
const JUST_ASKED = 0.25;

/** How well an entry is known, 0…1: marks, the newer the more. */
export function known(history: readonly Asked[]): number {
  let value = UNKNOWN;
  for (const { mark } of history) if (mark !== null) value += NEWEST * (mark / 100 - value);
  return value;
}

/** How much an entry is due, 0…1: it grows with the days since it was last asked, more slowly the better it went. */
export function due(history: readonly Asked[], today: number): number {
  const last = history.at(-1);
  if (!last) return 1;
  let well = 0;
  for (let k = history.length - 1; k >= 0 && (history[k]!.mark ?? 0) >= WELL; k--) well++;
  const wait = Math.min(LONGEST_WAIT_DAYS, 2 ** Math.max(0, well - 1));
  return Math.min(1, Math.max(JUST_ASKED, (today - last.day) / wait));
}

/**
 * Which entry is asked next, as an examiner would: it cannot be foreseen, weak ones come more often, well known ones
 * come back after days. Never the same twice running where there is another.
 *
 * @param histories of each entry of the list, oldest first; @param last index asked before, or null
 * @param seed unsigned 32-bit; the same arguments give the same answer; @returns an index
 * @throws RangeError for an empty list
 */
export function nextEntry(
  histories: readonly (readonly Asked[])[],
  last: number | null,
  today: number,
  seed: number,
): number {
  if (histories.length === 0)
    throw new RangeError('a list without entries has nothing to ask; add a scale to it');
  const weights = histories.map((history, i) =>
    i === last && histories.length > 1
      ? 0
      : // Whole numbers: a draw must not hang on how a sum of fractions is rounded.
        Math.round(1000 * (LEAST + (1 - known(history)) * due(history, today))),
  );
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  let draw = makeRandom(seed, 4).below(total);
  return weights.findIndex((weight) => (draw -= weight) < 0);
}
