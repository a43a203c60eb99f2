import { loadBanks, isNegative, takeSet } from '../../../audio-fixtures/index.ts';
import type { TakeRecipe } from '../../../audio-fixtures/index.ts';
import { accept } from '../../../src/dsp/decision/accept.ts';
import { FEATURES } from '../../../src/dsp/decision/features.ts';
import { createTrees } from '../../../src/dsp/decision/trees.ts';
import { analyse } from '../../../src/dsp/hear/analysis.ts';
import { heardNotes } from '../../../src/dsp/hear/heardNotes.ts';
import { nameNotes } from '../../../src/dsp/hear/name.ts';
import { toWorkRate } from '../../../src/dsp/hear/toWorkRate.ts';
import { certaintyFeatures } from '../../../src/dsp/note/confidence.ts';
import { evidence, EVIDENCE } from '../../../src/dsp/verdict/evidence.ts';
import { boost } from './boost.ts';
import type { Example } from './boost.ts';
import { examplesOf } from './collect.ts';
import { fitLogistic } from './newton.ts';
import { BOOST } from './options.ts';

/**
 * Fits "is it a plucked string?" and "is the note right?" on notes that the decision was not fitted on (two
 * folds over the development set), and prints both lines for `src/dsp/decision/*Line.ts`:
 *   npx tsx tests/bench/fit/lines.ts
 */
const LINE = { ridge: 1, ridgeProducts: 1e6 };
/** Takes without notes are one in eight; three times their weight lets them be heard. */
const NEGATIVE_TAKE_WEIGHT = 3;

const { all } = await loadBanks();
const recipes = takeSet(all, 1000);
const lessons = recipes.map(examplesOf);
const takes: Example[] = [];
const notes: Example[] = [];

function judge(recipe: TakeRecipe, decide: (features: ArrayLike<number>) => number): void {
  const take = recipe.make();
  const analysis = analyse(toWorkRate(take.signal, take.sampleRate));
  const p = Float64Array.from(analysis.possible, (c) => decide(c.features));
  const of = new Map(analysis.possible.map((c, i) => [c, p[i]]));
  const named = nameNotes(
    analysis,
    accept(analysis.possible, (c) => of.get(c) ?? 0, 0.27),
  );
  if (named.length === 0) return;
  const negative = isNegative(recipe.family);
  takes.push({
    features: evidence(analysis, p, named),
    label: negative ? 0 : 1,
    weight: negative ? NEGATIVE_TAKE_WEIGHT : 1,
  });
  if (negative || recipe.family === 'glide') return;
  heardNotes(named, 1).notes.forEach((note, i) => {
    const right = take.truth.some(
      (t) => Math.abs(t.onsetSec - note.onsetSec) <= 0.05 && Math.abs(t.midi - note.midi) <= 0.5,
    );
    notes.push({ features: certaintyFeatures(named[i]), label: right ? 1 : 0, weight: 1 });
  });
}

for (const fold of [0, 1]) {
  const taught = lessons.flatMap((lesson, i) => (i % 2 === fold ? [] : lesson));
  const decide = createTrees(boost(FEATURES, taught, BOOST), FEATURES);
  recipes.forEach((recipe, i) => {
    if (i % 2 === fold) judge(recipe, decide);
  });
}
for (const [names, examples] of [
  [EVIDENCE, takes],
  [['odds', 'salience', 'margin'], notes],
] as const) {
  const { bias, means, deviations, weights } = fitLogistic(names, examples, LINE);
  console.log(JSON.stringify({ names, bias, means, deviations, weights: weights.slice(0, names.length) }));
}
