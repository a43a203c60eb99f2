import { loadBanks, takeSet } from '../../audio-fixtures/index.ts';
import type { TakeRecipe } from '../../audio-fixtures/index.ts';
import { accept, keepLikeliest } from '../../src/dsp/decision/accept.ts';
import { FEATURES } from '../../src/dsp/decision/features.ts';
import type { FeatureName } from '../../src/dsp/decision/features.ts';
import { LEVELS } from '../../src/dsp/decision/levels.ts';
import { PARTIAL_GROWTH } from '../../src/dsp/decision/partials.ts';
import { PERIODICITY } from '../../src/dsp/decision/periodicity.ts';
import { createTrees } from '../../src/dsp/decision/trees.ts';
import { heardNotes } from '../../src/dsp/hear/heardNotes.ts';
import { nameNotes } from '../../src/dsp/hear/name.ts';
import { THRESHOLD } from '../../src/dsp/hear/segment.ts';
import { PITCH_WEIGHTS } from '../../src/dsp/pitch/notePitch.ts';
import type { PitchWeights } from '../../src/dsp/pitch/notePitch.ts';
import { addTallies, f1, tally } from '../support/fixtures/note-metrics.ts';
import type { Tally } from '../support/fixtures/note-metrics.ts';
import { analysed, lessonsOf } from '../../src/training/collect.ts';
import type { Lesson } from '../../src/training/collect.ts';
import { crossFit, fitLooks } from '../../src/training/looks.ts';
import { SEEDS } from '../../src/training/options.ts';

/**
 * What each stage of the listener buys. Groups of the decision's features: left out, refitted in two folds over the
 * development set, onset F1 over the takes that hold notes; the second look; then, with the
 * onsets so found, note F1 without each part of the pitch's score.
 *   npx tsx tests/bench/ears-ablation.ts
 */
const GROUPS: Record<string, readonly FeatureName[]> = {
  nothing: [],
  'SuperFlux, strength and neighbours': ['logS', 'logO', 'rank', 'strongBefore', 'strongAfter'],
  'band rise': ['logR', 'rise0', 'rise1', 'rise2', 'rise3', 'rise4', 'rise5'],
  'continuity of the wave': ['disc', 'brk', 'cont'],
  'level of the differentiated signal': LEVELS.slice(LEVELS.indexOf('egain8')),
  'look-ahead and what was before': ['nextdom', 'sustain', 'later', 'latest', 'past', 'slope', 'least'],
  'periodicity and its change': PERIODICITY,
  'growth of partials': PARTIAL_GROWTH,
};

/** Parts of the pitch's score, left out. */
const PITCH: Record<string, Partial<PitchWeights> & { readonly ungated?: true }> = {
  nothing: {},
  'the sub-harmonic gate': { ungated: true },
  'the harmonic comb': { comb: 0 },
  'growth of partials over the attack': { growth: 0 },
  'leaning towards the neighbours': { leap: 0 },
};

type Chances = readonly ArrayLike<number>[];
const { all } = await loadBanks();
const recipes = takeSet(all, SEEDS[0]!);
const lessons = lessonsOf(recipes);
const truths = recipes.map((recipe: TakeRecipe, i) =>
  lessons[i]!.negative
    ? []
    : analysed(recipe, lessons[i]!).truth.map(({ onsetSec }) => ({ onsetSec, midi: 60 })),
);

function line(name: string, chances: Chances): string {
  const tallies = lessons.flatMap(({ negative, at }, i) => {
    if (negative) return [];
    const heard = keepLikeliest(at, chances[i]!, THRESHOLD).map((k) => ({ onsetSec: at[k]!, midi: 60 }));
    return [tally(truths[i]!, heard)];
  });
  const sum = addTallies(tallies);
  const figure = (hits: number): string => (f1(hits, sum) ?? 0).toFixed(4);
  return `${name.padEnd(44)} ${figure(sum.hits50)} ${figure(sum.hits25)}  missed ${sum.truth - sum.hits50}, extra ${sum.heard - sum.hits50} of ${sum.truth}`;
}

const fold = (_: Lesson, i: number): number => i % 2;

/** The first look alone. */
function firstOnly(): Chances {
  const folds = lessons.map(fold);
  const decide = [0, 1].map((held) =>
    createTrees(fitLooks(lessons.filter((_, i) => folds[i] !== held)).first, FEATURES),
  );
  return lessons.map((lesson, i) => lesson.features.map(decide[folds[i]!]!));
}

let chances: Chances = [];
for (const [name, without] of Object.entries(GROUPS)) {
  const gone = without.map((feature) => FEATURES.indexOf(feature));
  const less = lessons.map((lesson) => ({
    ...lesson,
    features: lesson.features.map((row) => row.map((v, i) => (gone.includes(i) ? 0 : v))),
  }));
  const fitted = crossFit(less, fold);
  if (gone.length === 0) chances = fitted;
  console.log(line(`without ${name}`, fitted));
}
console.log(line('without the second look', firstOnly()));

const pools = new Map<string, Tally[]>(Object.keys(PITCH).map((name) => [name, []]));
recipes.forEach((recipe, i) => {
  if (lessons[i]!.negative) return;
  const { analysis, truth } = analysed(recipe, lessons[i]!);
  const of = new Map(analysis.possible.map((p, k) => [p, chances[i]![k]]));
  const accepted = accept(analysis.possible, (p) => of.get(p)!, THRESHOLD);
  for (const [name, { ungated, ...changed }] of Object.entries(PITCH)) {
    const pitch = ungated ? { ...analysis.pitch, gated: analysis.pitch.raw } : analysis.pitch;
    const named = nameNotes({ ...analysis, pitch }, accepted, {
      pitchless: 'kept',
      weights: { ...PITCH_WEIGHTS, ...changed },
    });
    pools.get(name)!.push(tally(truth, heardNotes(named, 1).notes));
  }
});
for (const [name, tallies] of pools) {
  const sum = addTallies(tallies);
  console.log(
    `named without ${name}`.padEnd(50),
    f1(sum.hits50, sum)?.toFixed(4),
    `${sum.onsetHits - sum.hits50} wrong, ${sum.octaves} by octaves`,
  );
}
