import { keepLikeliest } from '../dsp/decision/accept.ts';
import { createLooks } from '../dsp/decision/looks.ts';
import { VETO_FEATURES, vetoFeatures } from '../dsp/decision/veto.ts';
import { FIRST_LOOK, SECOND_LOOK } from '../dsp/decision/weights.ts';
import { THRESHOLD } from '../dsp/hear/segment.ts';
import { WORK_RATE } from '../dsp/signal/prepared.ts';
import { allBanks } from './banks.ts';
import { boost } from './boost.ts';
import type { Example } from './boost.ts';
import { analysed, lessonsOf } from './collect.ts';
import { vetoRecipes, VETO_BOOST } from './options.ts';
import { writeData } from './data.ts';

/**
 * Fits the third look on what the first two, as they ship, take for plucks:
 *   npm run fit -- veto
 * It learns from the takes that the first two were fitted on and, above all, from those of hands and of lost samples that
 * they were not.
 */
/** What is less likely teaches nothing that the third look will be asked. */
const LIKELY = 0.1;

const decide = createLooks({ first: FIRST_LOOK, second: SECOND_LOOK });
const recipes = vetoRecipes(await allBanks());
const lessons = lessonsOf(recipes);
const examples: Example[] = recipes.flatMap((recipe, i) => {
  const lesson = lessons[i]!;
  if (lesson.negative) return [];
  const { chances, rows } = decide(lesson.at, lesson.features);
  const plucks = keepLikeliest(lesson.at, chances, THRESHOLD).map((k) =>
    Math.round(lesson.at[k]! * WORK_RATE),
  );
  const { analysis } = analysed(recipe, lesson);
  return lesson.at.flatMap((sec, k) => {
    const label = lesson.labels[k]!;
    if (chances[k]! < LIKELY || label === null) return [];
    const at = Math.round(sec * WORK_RATE);
    return [{ features: vetoFeatures(analysis, at, rows[k]!, chances[k]!, plucks), label, weight: 1 }];
  });
});
const plucks = examples.filter(({ label }) => label === 1).length;
writeData(
  'decision/vetoWeights.json',
  `Fitted by \`npm run fit -- veto\` on ${recipes.length} takes: ${plucks} plucks and ${examples.length - plucks} others that two looks took for plucks.`,
  boost(VETO_FEATURES, examples, VETO_BOOST),
);
