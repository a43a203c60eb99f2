import { VETO_FEATURES } from '../dsp/decision/veto.ts';
import { allBanks } from './banks.ts';
import { boost } from './boost.ts';
import { writeData } from './data.ts';
import { vetoRecipes, VETO_BOOST } from './options.ts';
import { thirdExamples, thirdLessonsOf } from './thirdLook.ts';

/**
 * Fits the third look on what the first two, as they ship, take for plucks in takes that they have not learnt from:
 *   npm run fit -- veto
 */
const recipes = vetoRecipes(await allBanks());
const examples = thirdExamples(thirdLessonsOf(recipes));
const plucks = examples.filter(({ label }) => label === 1).length;
writeData(
  'decision/vetoWeights.json',
  `Fitted by \`npm run fit -- veto\` on ${recipes.length} takes: ${plucks} plucks and ${examples.length - plucks} others that two looks took for plucks.`,
  boost(VETO_FEATURES, examples, VETO_BOOST),
);
