import { loadBanks, triedSet } from '../../audio-fixtures/index.ts';
import { keepLikeliest } from '../../src/dsp/decision/accept.ts';
import { FORETOLD } from '../../src/dsp/decision/foretold.ts';
import { GOING_ON } from '../../src/dsp/decision/goingOn.ts';
import { createTrees } from '../../src/dsp/decision/trees.ts';
import { VETO_FEATURES } from '../../src/dsp/decision/veto.ts';
import { THRESHOLD } from '../../src/dsp/hear/segment.ts';
import { matchNotes } from '../support/fixtures/note-metrics.ts';
import { boost } from '../../src/training/boost.ts';
import type { BoostOptions } from '../../src/training/boost.ts';
import { vetoRecipes, VETO_BOOST } from '../../src/training/options.ts';
import { thirdExamples, thirdLessonsOf } from '../../src/training/thirdLook.ts';
import type { ThirdLesson } from '../../src/training/thirdLook.ts';

/**
 * What the third look buys under every limit: onsets missed / false, by fits of two sizes and without what it asks of
 * the wave that goes on. In five folds over the takes that it learns from, and on takes of hands with noises that it has
 * not heard (`triedSet`). Cuts, names and ranges are left out.
 *   npx tsx tests/bench/ears-third-look.ts
 */
const LIMITS = [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6];
const FOLDS = 5;
/** As far as onsets are matched, s. */
const NEAR_SEC = 0.05;
const without = (...groups: readonly (readonly string[])[]): string[] =>
  VETO_FEATURES.filter((name) => !groups.flat().includes(name));
const FITS: Readonly<Record<string, { readonly names: readonly string[]; readonly size: BoostOptions }>> = {
  'as it ships': { names: VETO_FEATURES, size: VETO_BOOST },
  'without what is foretold': { names: without(FORETOLD), size: VETO_BOOST },
  'nor what goes on': { names: without(FORETOLD, GOING_ON), size: VETO_BOOST },
  '80 trees of depth 3': { names: VETO_FEATURES, size: { ...VETO_BOOST, trees: 80, depth: 3, rate: 0.1 } },
};

type Look = (features: readonly number[]) => number;

/** A look that was fitted on these takes. */
function fitted(lessons: readonly ThirdLesson[], { names, size }: (typeof FITS)[string]): Look {
  const places = names.map((name) => VETO_FEATURES.indexOf(name));
  const given = (features: ArrayLike<number>): number[] => places.map((place) => features[place]!);
  const examples = thirdExamples(lessons).map((one) => ({ ...one, features: given(one.features) }));
  const trees = createTrees(boost(names, examples, size), names);
  return (features) => trees(given(features));
}

/** Onsets missed and false where what the look finds less likely than `limit` is dropped, and what stood back behind it looked at. */
function errors({ truth, candidates }: ThirdLesson, chances: readonly number[], limit: number) {
  const at = candidates.map(({ sec }) => sec);
  const left = candidates.map(({ chance }) => chance);
  for (;;) {
    const kept = keepLikeliest(at, left, THRESHOLD);
    const dropped = kept.filter((i) => chances[i]! < limit);
    for (const i of dropped) left[i] = 0;
    if (dropped.length > 0) continue;
    const heard = kept.map((i) => ({ onsetSec: at[i]!, midi: 0 }));
    const hits = matchNotes(truth, heard, NEAR_SEC, Infinity).filter((h) => h >= 0).length;
    return { missed: truth.length - hits, extra: heard.length - hits };
  }
}

function line(name: string, lessons: readonly ThirdLesson[], looks: readonly Look[]): string {
  const chances = lessons.map(({ candidates }, i) => candidates.map(({ features }) => looks[i]!(features)));
  const cells = LIMITS.map((limit) => {
    const all = lessons.map((lesson, i) => errors(lesson, chances[i]!, limit));
    const sum = (of: 'missed' | 'extra'): number => all.reduce((total, one) => total + one[of], 0);
    return `${sum('missed')} / ${sum('extra')}`.padStart(10);
  });
  const notes = lessons.reduce((sum, { truth }) => sum + truth.length, 0);
  return `${name.padEnd(34)} ${String(notes).padStart(6)} ${cells.join(' ')}`;
}

const { all: banks } = await loadBanks();
const lessons = thirdLessonsOf(vetoRecipes(banks));
const unheard = thirdLessonsOf(await triedSet(banks));
const HANDS = ['knock', 'shift', 'stir'];
const SOFT = ['repluck', 'soft', 'fast'];
const groups: Readonly<Record<string, (family: string) => boolean>> = {
  hands: (family) => HANDS.includes(family),
  skip: (family) => family === 'skip',
  'repluck, soft, fast': (family) => SOFT.includes(family),
  'all but hands and skip': (family) => !HANDS.includes(family) && family !== 'skip',
};
console.log(
  `missed / false under a limit of ${''.padEnd(10)} ${LIMITS.map((l) => l.toFixed(1).padStart(10)).join(' ')}`,
);
for (const [name, fit] of Object.entries(FITS)) {
  const folds = Array.from({ length: FOLDS }, (_, fold) =>
    fitted(
      lessons.filter((_, i) => i % FOLDS !== fold),
      fit,
    ),
  );
  const looks = lessons.map((_, i) => folds[i % FOLDS]!);
  console.log(name);
  for (const [group, holds] of Object.entries(groups)) {
    const of = lessons.flatMap((lesson, i) => (holds(lesson.family) ? [i] : []));
    console.log(
      line(
        `  ${group}`,
        of.map((i) => lessons[i]!),
        of.map((i) => looks[i]!),
      ),
    );
  }
  const whole = fitted(lessons, fit);
  console.log(
    line(
      '  hands, noises not heard',
      unheard,
      unheard.map(() => whole),
    ),
  );
}
