import { isNegative } from '../../../audio-fixtures/index.ts';
import type { TakeRecipe } from '../../../audio-fixtures/index.ts';
import { analyse } from '../../../src/dsp/hear/analysis.ts';
import { toWorkRate } from '../../../src/dsp/hear/toWorkRate.ts';
import { WORK_RATE } from '../../../src/dsp/signal/prepared.ts';
import type { Example } from './boost.ts';
import { labels } from './label.ts';
import { NEGATIVE_WEIGHT } from './options.ts';

/** Makes a take, measures its candidates and labels them by the truth. */
export function examplesOf(recipe: TakeRecipe): Example[] {
  const take = recipe.make();
  const { possible } = analyse(toWorkRate(take.signal, take.sampleRate));
  const found = labels(
    possible.map((p) => p.attack.at / WORK_RATE),
    take.truth.map((t) => t.onsetSec),
  );
  const weight = isNegative(recipe.family) ? NEGATIVE_WEIGHT : 1;
  return possible.flatMap((p, i) => {
    const label = found[i];
    return label === null ? [] : [{ features: p.features, label, weight }];
  });
}
