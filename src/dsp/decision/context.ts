import { upperMedian } from '../../music/numbers.ts';
import { keepLikeliest } from './accept.ts';
import { FEATURES } from './features.ts';

/**
 * What is known of a candidate once every other has been looked at: its own first odds, its rivals', how far the
 * sure plucks around it are, and how it differs from the take's sure plucks (`…There`).
 */
const COMPARED = [
  'gain50',
  'gain10',
  'rise4',
  'rise5',
  'level',
  'logO',
  'grow',
  'per',
  'elevel',
  'steep',
  'egain8',
  'brightAfter',
  'nextdom',
  'growHigh',
] as const;
export const CONTEXT = [
  'odds',
  'rivalBefore',
  'rivalAfter',
  'leadBefore',
  'leadAfter',
  'oddsBefore',
  'oddsAfter',
  'sinceLast',
  'untilNext',
  ...COMPARED.map((name) => `${name}There` as const),
] as const;

const PLACES = COMPARED.map((name) => FEATURES.indexOf(name));
/** Times in seconds. Nearer than this are other attacks of the same candidate. */
const SAME = 0.004;
/** Rivals stand within the least gap of two plucks; neighbours up to here. */
const RIVAL = 0.05;
const NEIGHBOUR = 0.13;
/** Sure plucks nearer than this are the candidate itself; further than 0.5 s all is alike. */
const ITSELF = 0.02;
const FAR = 0.5;
/** Odds of what is not there. */
const NONE = -9;
const SURE = 0.5;

const oddsOf = (p: number): number => Math.log((p + 1e-4) / (1 - p + 1e-4));

/**
 * @param at instants of the candidates, seconds, rising
 * @param features of each, see {@link FEATURES} @param first the first look's probability of each
 * @returns a row for each candidate: {@link FEATURES} and then {@link CONTEXT}
 */
export function inContext(
  at: readonly number[],
  features: readonly ArrayLike<number>[],
  first: ArrayLike<number>,
): Float64Array[] {
  const odds = at.map((_, i) => oddsOf(first[i]!));
  const sure = keepLikeliest(at, first, SURE);
  const usual = PLACES.map((place) => upperMedian(sure.map((k) => features[k]![place]!)));
  return at.map((t, i) => {
    let [rivalBefore, rivalAfter, oddsBefore, oddsAfter] = [NONE, NONE, NONE, NONE];
    for (let j = i - 1; j >= 0 && t - at[j]! < NEIGHBOUR; j--) {
      const gap = t - at[j]!;
      if (gap > RIVAL) oddsBefore = Math.max(oddsBefore, odds[j]!);
      else if (gap > SAME) rivalBefore = Math.max(rivalBefore, odds[j]!);
    }
    for (let j = i + 1; j < at.length && at[j]! - t < NEIGHBOUR; j++) {
      const gap = at[j]! - t;
      if (gap > RIVAL) oddsAfter = Math.max(oddsAfter, odds[j]!);
      else if (gap > SAME) rivalAfter = Math.max(rivalAfter, odds[j]!);
    }
    let sinceLast = FAR;
    let untilNext = FAR;
    for (const k of sure) {
      const gap = at[k]! - t;
      if (gap < -ITSELF) sinceLast = Math.min(sinceLast, -gap);
      if (gap > ITSELF) untilNext = Math.min(untilNext, gap);
    }
    const own = features[i]!;
    const row = new Float64Array(FEATURES.length + CONTEXT.length);
    row.set(own);
    row.set(
      [
        odds[i]!,
        rivalBefore,
        rivalAfter,
        rivalBefore - odds[i]!,
        rivalAfter - odds[i]!,
        oddsBefore,
        oddsAfter,
        sinceLast,
        untilNext,
        ...PLACES.map((place, q) => own[place]! - usual[q]!),
      ],
      FEATURES.length,
    );
    return row;
  });
}
