import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { isNegative } from '../../audio-fixtures/index.ts';
import type { TakeRecipe, TrueNote } from '../../audio-fixtures/index.ts';
import { FEATURES } from '../dsp/decision/features.ts';
import { lookFor } from '../dsp/hear/analysis.ts';
import type { Analysis } from '../dsp/hear/analysis.ts';
import { WORK_RATE } from '../dsp/signal/prepared.ts';
import { cacheFolder, LOOKING } from './cacheFolder.ts';
import { kept } from './kept.ts';
import { labels } from './label.ts';
import type { Label } from './label.ts';

/** A take's candidates as the decision learns from them. */
export interface Lesson {
  readonly id: string;
  readonly family: string;
  readonly bank: string;
  readonly negative: boolean;
  /** Instants of the candidates, s, rising, with their features and what they are. */
  readonly at: readonly number[];
  readonly features: readonly (readonly number[])[];
  readonly labels: readonly Label[];
}

function lessonOf(recipe: TakeRecipe): Lesson {
  const { id, family, bank } = recipe;
  const { measured, truth } = kept(recipe);
  const { possible } = lookFor(measured);
  const at = possible.map((p) => p.attack.at / WORK_RATE);
  return {
    id,
    family,
    bank,
    negative: isNegative(family),
    at,
    features: possible.map((p) => Array.from(p.features, (v) => Number(v.toPrecision(6)))),
    labels: labels(
      at,
      truth.map((t) => t.onsetSec),
    ),
  };
}

/** Lessons of these takes, measured at first use and then read from .cache/ears. */
export function lessonsOf(recipes: readonly TakeRecipe[]): Lesson[] {
  const path = join(cacheFolder('lessons', LOOKING), 'lessons.jsonl');
  mkdirSync(dirname(path), { recursive: true });
  const lines = existsSync(path) ? readFileSync(path, 'utf8').split('\n').filter(Boolean) : [];
  const known = new Map(lines.map((line) => [line.slice(7, line.indexOf('"', 7)), line]));
  return recipes.map((recipe) => {
    const line = known.get(recipe.id);
    if (line !== undefined) return JSON.parse(line) as Lesson;
    const lesson = lessonOf(recipe);
    writeFileSync(path, `${JSON.stringify(lesson)}\n`, { flag: 'a' });
    return lesson;
  });
}

/** A take's analysis put together again from its lesson: nothing is measured anew. Candidates' frames are not kept. */
export function analysed(
  recipe: TakeRecipe,
  { at, features }: Lesson,
): { analysis: Analysis; truth: readonly TrueNote[] } {
  const { measured, truth } = kept(recipe);
  const possible = at.map((sec, i) => {
    const row = features[i]!;
    return {
      candidate: { frame: NaN, strength: NaN, flux: NaN },
      attack: { at: Math.round(sec * WORK_RATE), steepDb: 10 * row[STEEP]! },
      features: Float64Array.from(row),
    };
  });
  return { analysis: { take: measured.take, pitch: measured.pitch, possible }, truth };
}
const STEEP = FEATURES.indexOf('steep');
