import { loadBanks, takeSet } from '../../../audio-fixtures/index.ts';
import { FEATURES } from '../../../src/dsp/decision/features.ts';
import { boost } from './boost.ts';
import { examplesOf } from './collect.ts';
import { BOOST } from './options.ts';
import { writeTrees } from './write.ts';

/**
 * Fits "was that a pluck?" and writes `src/dsp/decision/weights.ts`:
 *   npx tsx tests/bench/fit/decision.ts [firstSeed …]
 * The seeds default to the development set's and one more set like it.
 */
const seeds = process.argv.slice(2).map(Number);
if (seeds.length === 0) seeds.push(1000, 30_000);
const { all } = await loadBanks();
const recipes = seeds.flatMap((seed) => takeSet(all, seed));
const examples = recipes.flatMap(examplesOf);
const plucks = examples.filter((e) => e.label === 1).length;
const made = `Fitted by \`npx tsx tests/bench/fit/decision.ts ${seeds.join(' ')}\`: ${recipes.length} takes, ${plucks} plucks, ${examples.length - plucks} other candidates.`;
writeTrees(boost(FEATURES, examples, BOOST), made);
console.log(made);
