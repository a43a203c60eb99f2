import { inContext } from '../dsp/decision/context.ts';
import { FEATURES } from '../dsp/decision/features.ts';
import { createLooks, SECOND_FEATURES } from '../dsp/decision/looks.ts';
import type { Looks } from '../dsp/decision/looks.ts';
import { createTrees } from '../dsp/decision/trees.ts';
import type { TreeData } from '../dsp/decision/trees.ts';
import { boost } from './boost.ts';
import type { Example } from './boost.ts';
import type { Lesson } from './collect.ts';
import { BOOST, NEGATIVE_WEIGHT } from './options.ts';

/** The second look must learn from first odds of takes that the first look has not learnt from. */
const INNER_FOLDS = 3;

function examplesOf(lesson: Lesson, rows: readonly ArrayLike<number>[]): Example[] {
  const weight = lesson.negative ? NEGATIVE_WEIGHT : 1;
  return rows.flatMap((features, i) => {
    const label = lesson.labels[i]!;
    return label === null ? [] : [{ features, label, weight }];
  });
}

const firstOf = (lessons: readonly Lesson[]): TreeData =>
  boost(
    FEATURES,
    lessons.flatMap((l) => examplesOf(l, l.features)),
    BOOST,
  );

/** Both looks, fitted on these takes. */
export function fitLooks(lessons: readonly Lesson[]): Looks {
  const second: Example[] = [];
  for (let fold = 0; fold < INNER_FOLDS; fold++) {
    const first = createTrees(firstOf(lessons.filter((_, i) => i % INNER_FOLDS !== fold)), FEATURES);
    lessons.forEach((lesson, i) => {
      if (i % INNER_FOLDS !== fold) return;
      const chances = lesson.features.map(first);
      for (const example of examplesOf(lesson, inContext(lesson.at, lesson.features, chances)))
        second.push(example);
    });
  }
  return { first: firstOf(lessons), second: boost(SECOND_FEATURES, second, BOOST) };
}

/** Each take's probabilities by looks that were fitted on the takes of the other folds. */
export function crossFit(
  lessons: readonly Lesson[],
  fold: (lesson: Lesson, index: number) => number,
): Float64Array[] {
  const folds = lessons.map(fold);
  const out: Float64Array[] = lessons.map(() => new Float64Array(0));
  for (const held of new Set(folds)) {
    const decide = createLooks(fitLooks(lessons.filter((_, i) => folds[i] !== held)));
    lessons.forEach((lesson, i) => {
      if (folds[i] === held) out[i] = decide(lesson.at, lesson.features).chances;
    });
  }
  return out;
}
