import { isNegative, takeSet } from '../../audio-fixtures/index.ts';
import type { TakeRecipe } from '../../audio-fixtures/index.ts';
import type { Line } from '../dsp/decision/line.ts';
import { accept } from '../dsp/decision/accept.ts';
import { heardNotes } from '../dsp/hear/heardNotes.ts';
import { nameNotes } from '../dsp/hear/name.ts';
import { THRESHOLD } from '../dsp/hear/segment.ts';
import { certaintyFeatures } from '../dsp/note/confidence.ts';
import { evidence, EVIDENCE } from '../dsp/verdict/evidence.ts';
import { matchNotes } from '../../tests/support/fixtures/note-metrics.ts';
import { allBanks } from './banks.ts';
import { analysed, lessonsOf } from './collect.ts';
import type { Lesson } from './collect.ts';
import { writeData } from './data.ts';
import { fitLogistic } from './newton.ts';
import type { Example } from './newton.ts';
import { SEEDS } from './options.ts';
import { chancesOf } from './protocols.ts';

/**
 * Fits "is it a plucked string?" and "is the note right?" on notes that the decision was not fitted on (two
 * folds over the takes), and writes both lines:
 *   npm run fit -- lines
 */
const LINE = { ridge: 1, ridgeProducts: 1e6 };
/** Takes without notes are one in eight; three times their weight lets them be heard. */
const NEGATIVE_TAKE_WEIGHT = 3;

const all = await allBanks();
const recipes = SEEDS.flatMap((seed) => takeSet(all, seed));
const lessons = lessonsOf(recipes);
const takes: Example[] = [];
const notes: Example[] = [];

function judge(recipe: TakeRecipe, lesson: Lesson, p: Float64Array): void {
  const { analysis, truth } = analysed(recipe, lesson);
  const of = new Map(analysis.possible.map((c, i) => [c, p[i]]));
  const named = nameNotes(
    analysis,
    accept(analysis.possible, (c) => of.get(c) ?? 0, THRESHOLD),
    { pitchless: 'kept' },
  );
  if (named.length === 0) return;
  const negative = isNegative(recipe.family);
  takes.push({
    features: evidence(analysis, p, named),
    label: negative ? 0 : 1,
    weight: negative ? NEGATIVE_TAKE_WEIGHT : 1,
  });
  if (negative) return;
  const heard = heardNotes(named, 1).notes;
  const right = new Set(matchNotes(truth, heard, 0.05));
  heard.forEach((_, i) => {
    notes.push({ features: certaintyFeatures(named[i]!), label: right.has(i) ? 1 : 0, weight: 1 });
  });
}

const chances = chancesOf(lessons, 'takes');
recipes.forEach((recipe, i) => judge(recipe, lessons[i]!, chances[i]!));
/** Four figures of each number: more would say nothing. */
function lineOf(names: readonly string[], examples: readonly Example[]): Line {
  const { bias, means, deviations, weights } = fitLogistic(names, examples, LINE);
  const short = (values: readonly number[]): number[] => values.map((x) => Number(x.toPrecision(4)));
  return {
    names,
    bias: Number(bias.toPrecision(4)),
    means: short(means),
    deviations: short(deviations),
    weights: short(weights.slice(0, names.length)),
  };
}
writeData(
  'decision/lines.json',
  `Fitted by \`npm run fit -- lines\` on ${takes.length} cross-validated takes, those without notes counting three times, and ${notes.length} notes.`,
  { confidence: lineOf(['odds', 'salience', 'margin'], notes), instrument: lineOf(EVIDENCE, takes) },
);
