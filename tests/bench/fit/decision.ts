import { writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { format } from 'prettier';
import { developmentSet } from '../../../audio-fixtures/index.ts';
import { FEATURES } from '../../../src/dsp/decision/features.ts';
import { lesson } from './collect.ts';
import { fitLogistic } from './newton.ts';
import { RIDGES } from './ridges.ts';

/**
 * Fits "was that a pluck?" on the development set and writes `src/dsp/decision/weights.ts`:
 *   npx tsx tests/bench/fit/decision.ts
 */
const OUT = resolve(import.meta.dirname, '../../../src/dsp/decision/weights.ts');
const short = (values: readonly number[]): number[] => values.map((v) => Number(v.toPrecision(4)));

const recipes = await developmentSet();
const examples = recipes.flatMap((recipe) => lesson(recipe).examples);
const model = fitLogistic(FEATURES, examples, RIDGES);
const plucks = examples.filter((e) => e.label === 1).length;
const text = `import type { Model } from './model.ts';

/**
 * Fitted by \`npx tsx tests/bench/fit/decision.ts\` on ${recipes.length} takes of the development set:
 * ${plucks} plucks and ${examples.length - plucks} other candidates. Not to be edited by hand.
 */
export const PLUCK_MODEL: Model = ${JSON.stringify({
  ...model,
  bias: short([model.bias])[0],
  means: short(model.means),
  deviations: short(model.deviations),
  weights: short(model.weights),
})};
`;
writeFileSync(OUT, await format(text, { parser: 'typescript', printWidth: 110, singleQuote: true }));
console.log(`${recipes.length} takes, ${plucks} plucks, ${examples.length - plucks} others -> ${OUT}`);
