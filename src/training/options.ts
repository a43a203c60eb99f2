import { FAMILIES, isNegative, takeSet } from '../../audio-fixtures/index.ts';
import type { Bank, FamilyName, TakeRecipe } from '../../audio-fixtures/index.ts';
import type { BoostOptions } from './boost.ts';

/**
 * Size of each look. In two-fold cross-validation on 144 takes depth 3…5 with 200…400 trees gave .978 to .981 in
 * onset F1; fewer trees at a higher rate keep the data small.
 */
export const BOOST: BoostOptions = {
  trees: 160,
  depth: 4,
  rate: 0.1,
  ridge: 3,
  leastCurvature: 2,
  share: 0.7,
  plain: 0.05,
};
/**
 * The third look's size. Of 792 noises that no fit has heard (`tests/bench/ears-third-look.ts`) 6 are taken for plucks under the
 * limit that ships (.4), by 320 trees of depth 5 at a rate of .08 8.
 */
export const VETO_BOOST: BoostOptions = {
  trees: 960,
  depth: 4,
  rate: 0.04,
  ridge: 3,
  leastCurvature: 2,
  share: 0.5,
};
/** A false note in a take that holds none costs less than one among notes: such takes are refused whole. */
export const NEGATIVE_WEIGHT = 0.5;
/** First seeds of the takes that are learnt from: the development set and two others like it. */
export const SEEDS: readonly number[] = [1000, 30_000, 60_000];
/**
 * First seeds of the takes that the third look learns from. None of them was learnt from by the first two, whose odds of
 * their own lessons are better than they are of anything that is played to them.
 */
export const THIRD_SEEDS: readonly number[] = [400_000, 430_000, 610_000];
/** And of more takes of hands and of lost samples, and of what is most easily lost with them: a string's next stroke. */
export const HANDLING_SEEDS: readonly number[] = [
  100_000,
  130_000,
  160_000,
  190_000,
  220_000,
  250_000,
  280_000,
  310_000,
  340_000,
  370_000,
  460_000,
  490_000,
  520_000,
  550_000,
  580_000,
  640_000,
  670_000,
  850_000,
  880_000,
  ...Array.from({ length: 24 }, (_, k) => 1_000_000 + 30_000 * k),
];

/** Lost samples are left to the third look. */
const FIRST_TWO = (Object.keys(FAMILIES) as FamilyName[]).filter((name) => name !== 'skip');
/** The takes that the first two looks learn from. */
export const lessonRecipes = (banks: readonly Bank[], seeds = SEEDS): TakeRecipe[] =>
  seeds.flatMap((seed) => takeSet(banks, seed, 'fit', FIRST_TWO));

const PLAYED = (Object.keys(FAMILIES) as FamilyName[]).filter((name) => !isNegative(name));
const CLOSE: readonly FamilyName[] = ['knock', 'shift', 'stir', 'skip', 'repluck', 'fast'];
/** Those that the third look learns from: a noise is seldom like another. */
export const vetoRecipes = (banks: readonly Bank[]): TakeRecipe[] => [
  ...THIRD_SEEDS.flatMap((seed) => takeSet(banks, seed, 'more', PLAYED)),
  ...HANDLING_SEEDS.flatMap((seed) => takeSet(banks, seed, 'more', CLOSE)),
];
