import { developmentSet, isNegative, loadBanks } from '../../audio-fixtures/index.ts';
import { FEATURES } from '../../src/dsp/decision/features.ts';
import type { FeatureName } from '../../src/dsp/decision/features.ts';
import { createTrees } from '../../src/dsp/decision/trees.ts';
import { analyse } from '../../src/dsp/hear/analysis.ts';
import { toWorkRate } from '../../src/dsp/hear/toWorkRate.ts';
import { WORK_RATE } from '../../src/dsp/signal/prepared.ts';
import { boost } from './fit/boost.ts';
import type { Example } from './fit/boost.ts';
import { labels } from './fit/label.ts';
import { BOOST, NEGATIVE_WEIGHT } from './fit/options.ts';

/**
 * What each group of the decision's features buys: left out, refitted in two folds, onset F1 at ±50 ms over the
 * takes that hold notes.
 *   npx tsx tests/bench/ears-ablation.ts
 */
const GROUPS: Record<string, readonly FeatureName[]> = {
  nothing: [],
  'SuperFlux and combined strength': ['logS', 'logO', 'before', 'after'],
  'band rise': ['logR', 'hf', 'mf', 'lf'],
  'continuity of the wave': ['disc', 'brk', 'cont'],
  'look-ahead': ['nextdom', 'sustain'],
  'periodicity and its change': ['per', 'pchg', 'dip', 'grow'],
  'neighbouring candidates': ['before', 'after', 'shift'],
  'level in the take': ['level', 'quiet'],
};
const THRESHOLD = 0.25;
const GAP_SEC = 0.05;
const TOLERANCE_SEC = 0.05;

interface Lesson {
  readonly negative: boolean;
  readonly times: readonly number[];
  readonly onsets: readonly number[];
  readonly features: readonly Float64Array[];
}

/** True positives by the greedy matching of nearest pairs, which for gaps of 50 ms equals the best one. */
function matched(found: readonly number[], due: readonly number[]): number {
  const free = new Set(found);
  let count = 0;
  for (const onset of due) {
    const near = [...free].filter((t) => Math.abs(t - onset) <= TOLERANCE_SEC);
    if (near.length === 0) continue;
    free.delete(near.reduce((a, b) => (Math.abs(b - onset) < Math.abs(a - onset) ? b : a)));
    count++;
  }
  return count;
}

function score(lessons: readonly Lesson[], without: readonly FeatureName[]): string {
  const gone = without.map((name) => FEATURES.indexOf(name));
  const seen = lessons.map((l) => l.features.map((f) => f.map((v, i) => (gone.includes(i) ? 0 : v))));
  let hits = 0;
  let due = 0;
  let told = 0;
  for (const fold of [0, 1]) {
    const taught = lessons.flatMap((lesson, i): Example[] => {
      if (i % 2 === fold) return [];
      const label = labels(lesson.times, lesson.onsets);
      return seen[i].flatMap((features, k) => {
        const is = label[k];
        return is === null ? [] : [{ features, label: is, weight: lesson.negative ? NEGATIVE_WEIGHT : 1 }];
      });
    });
    const decide = createTrees(boost(FEATURES, taught, BOOST), FEATURES);
    lessons.forEach((lesson, i) => {
      if (i % 2 !== fold || lesson.negative) return;
      const ranked = lesson.times
        .map((t, k) => ({ t, p: decide(seen[i][k]) }))
        .filter((c) => c.p >= THRESHOLD)
        .sort((a, b) => b.p - a.p);
      const kept: number[] = [];
      for (const { t } of ranked) if (kept.every((k) => Math.abs(k - t) >= GAP_SEC)) kept.push(t);
      hits += matched(kept, lesson.onsets);
      due += lesson.onsets.length;
      told += kept.length;
    });
  }
  return `${((2 * hits) / (due + told)).toFixed(4)}   missed ${due - hits}, extra ${told - hits} of ${due}`;
}

const { all } = await loadBanks();
const lessons = (await developmentSet(all)).map((recipe): Lesson => {
  const take = recipe.make();
  const { possible } = analyse(toWorkRate(take.signal, take.sampleRate));
  return {
    negative: isNegative(recipe.family),
    times: possible.map((p) => p.attack.at / WORK_RATE),
    onsets: take.truth.map((t) => t.onsetSec),
    features: possible.map((p) => p.features),
  };
});
for (const [name, without] of Object.entries(GROUPS))
  console.log(`without ${name.padEnd(34)} ${score(lessons, without)}`);
