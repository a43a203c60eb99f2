import type { TakeRecipe, TrueNote } from '../../audio-fixtures/index.ts';
import { keepLikeliest } from '../dsp/decision/accept.ts';
import { createLooks } from '../dsp/decision/looks.ts';
import { vetoFeatures } from '../dsp/decision/veto.ts';
import { FIRST_LOOK, SECOND_LOOK } from '../dsp/decision/weights.ts';
import { THRESHOLD } from '../dsp/hear/segment.ts';
import { WORK_RATE } from '../dsp/signal/prepared.ts';
import type { Example } from './boost.ts';
import { analysed, lessonsOf } from './collect.ts';
import type { Label } from './label.ts';

/** What is less likely teaches nothing that the third look will be asked. */
const LIKELY = 0.1;

/** A take's candidates that the first two looks, as they ship, take for plucks or nearly so. */
export interface ThirdLesson {
  readonly id: string;
  readonly family: string;
  readonly truth: readonly TrueNote[];
  readonly candidates: readonly {
    readonly sec: number;
    /** The two looks' probability. */
    readonly chance: number;
    readonly features: readonly number[];
    readonly label: Label;
  }[];
}

const decide = createLooks({ first: FIRST_LOOK, second: SECOND_LOOK });

/** @param recipes none of them without notes */
export function thirdLessonsOf(recipes: readonly TakeRecipe[]): ThirdLesson[] {
  const lessons = lessonsOf(recipes);
  return recipes.map((recipe, i) => {
    const lesson = lessons[i]!;
    const { chances, rows } = decide(lesson.at, lesson.features);
    const plucks = keepLikeliest(lesson.at, chances, THRESHOLD).map((k) =>
      Math.round(lesson.at[k]! * WORK_RATE),
    );
    const { analysis, truth } = analysed(recipe, lesson);
    const candidates = lesson.at.flatMap((sec, k) => {
      const chance = chances[k]!;
      if (chance < LIKELY) return [];
      const at = Math.round(sec * WORK_RATE);
      const features = vetoFeatures(analysis, at, rows[k]!, chance, plucks);
      return [{ sec, chance, features, label: lesson.labels[k]! }];
    });
    return { id: recipe.id, family: recipe.family, truth, candidates };
  });
}

export const thirdExamples = (lessons: readonly ThirdLesson[]): Example[] =>
  lessons.flatMap(({ candidates }) =>
    candidates.flatMap(({ features, label }) => (label === null ? [] : [{ features, label, weight: 1 }])),
  );
