import type { Analysis, Possible } from '../hear/analysis.ts';
import { accept } from './accept.ts';
import type { Accepted } from './accept.ts';
import { FEATURES } from './features.ts';
import { FORETOLD, foretold } from './foretold.ts';
import { GOING_ON, goingOn } from './goingOn.ts';
import { SECOND_FEATURES } from './looks.ts';
import type { Decided } from './looks.ts';
import { periodicity } from './periodicity.ts';
import { isCut, seamNear } from './seam.ts';
import { createTrees } from './trees.ts';
import { VETO } from './vetoWeights.ts';

/** What the third look is given: all that the second was, its odds, whether what rang before goes on, and as foretold. */
export const VETO_FEATURES: readonly string[] = [...SECOND_FEATURES, 'odds2', ...GOING_ON, ...FORETOLD];

/**
 * Under this probability what two looks took for a pluck is none: a knock, a finger put down, a break. Chosen on takes of hands
 * with noises that no fit has heard and in five folds over those that it learns from: there knocks are taken for plucks a twelfth as
 * often as by two looks alone, and two in a thousand plucks are lost more.
 */
const LEAST = 0.4;
/** What two looks are as sure of is not looked at again: over half of all plucks. */
const SURE = 0.998;
const GROW = FEATURES.indexOf('grow');
const look = createTrees(VETO, VETO_FEATURES);

/** The third look's features of one of the candidates. @param plucks instants taken for plucks, in samples, rising */
export function vetoFeatures(
  { take, pitch }: Pick<Analysis, 'take' | 'pitch'>,
  at: number,
  row: ArrayLike<number>,
  chance: number,
  plucks: readonly number[],
): number[] {
  const { before, after } = periodicity(pitch, at);
  let [last, next] = [-Infinity, Infinity];
  for (const pluck of plucks) {
    if (pluck < at - ITSELF) last = pluck;
    else if (pluck > at + ITSELF && pluck < next) next = pluck;
  }
  return [
    ...Array.from(row),
    Math.log((chance + 1e-9) / (1 - chance + 1e-9)),
    ...goingOn(take, at, { before, after, last, next }),
    ...foretold(take, at, { last, next }),
  ];
}
/** Plucks nearer than this are the candidate itself: 20 ms. */
const ITSELF = 882;

export interface Plucks {
  readonly accepted: Accepted[];
  /** Samples at the working rate where the wave was cut and seemed plucked: see `seam.ts`. */
  readonly seams: readonly number[];
}

/**
 * The candidates that are plucks: those accepted at `threshold`, less those that a third, costlier look finds to be none.
 * It sees only what was accepted, three or four places a second. A candidate that stood back behind one so dropped is
 * looked at in its turn. So is the cut that was taken for one, which `seams` tells.
 * @param chances probability of each candidate
 */
export function plucksOf(
  analysis: Analysis,
  { rows }: Decided,
  chances: Float64Array,
  threshold: number,
): Plucks {
  const index = new Map<Possible, number>(analysis.possible.map((p, i) => [p, i]));
  const left = chances.slice();
  const looked = new Set<number>();
  const seams: number[] = [];
  for (;;) {
    const accepted = accept(analysis.possible, (p) => left[index.get(p)!]!, threshold);
    const plucks = accepted.map(({ possible }) => possible.attack.at);
    let dropped = false;
    for (const { possible } of accepted) {
      const i = index.get(possible)!;
      if (looked.has(i)) continue;
      looked.add(i);
      const seam = seamNear(analysis.take.samples, possible.attack.at);
      const cut = seam !== null && isCut(seam, possible.features[GROW]!);
      if (cut) seams.push(seam.at);
      const isPluck = (): boolean =>
        chances[i]! > SURE ||
        look(vetoFeatures(analysis, possible.attack.at, rows[i]!, chances[i]!, plucks)) >= LEAST;
      if (!cut && isPluck()) continue;
      left[i] = 0;
      dropped = true;
    }
    if (!dropped) return { accepted, seams };
  }
}
