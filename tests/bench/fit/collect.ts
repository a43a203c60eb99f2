import type { TakeRecipe } from '../../../audio-fixtures/index.ts';
import { analyse } from '../../../src/dsp/hear/analysis.ts';
import { toWorkRate } from '../../../src/dsp/hear/toWorkRate.ts';
import { WORK_RATE } from '../../../src/dsp/signal/prepared.ts';
import { labels } from './label.ts';
import type { Example } from './newton.ts';

/** What one take teaches the decision. */
export interface Lesson {
  readonly id: string;
  readonly family: string;
  readonly bank: string;
  readonly examples: readonly Example[];
}

/** Makes the take, measures its candidates and labels them by the truth. */
export function lesson(recipe: TakeRecipe): Lesson {
  const take = recipe.make();
  const { possible } = analyse(toWorkRate(take.signal, take.sampleRate));
  const found = labels(
    possible.map((p) => p.attack.at / WORK_RATE),
    take.truth.map((t) => t.onsetSec),
  );
  const examples = possible.flatMap((p, i) => {
    const label = found[i];
    return label === null ? [] : [{ features: p.features, label, weight: 1 }];
  });
  return { id: recipe.id, family: recipe.family, bank: recipe.bank, examples };
}
