import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { developmentSet, freshSet, loadBanks, type TakeRecipe } from '../../../audio-fixtures/index.ts';
import type { TestKind } from '../../../src/music/score.ts';
import { makeTest } from '../../../src/tests-engine/index.ts';
import { learner } from '../../tests-engine/progress/learner.ts';
import { STANDARD } from '../ears/listener.ts';
import { load, SETS } from '../marks/agreement.ts';
import type { Question } from './compare.ts';

/** So many tests a kind: 100 seeds at each of ten levels. */
const SEEDS = 100;
const LEVELS = 10;
const INSTRUMENTS = ['guitar', 'bass'] as const;

function* requests(): Generator<{
  readonly level: number;
  readonly seed: number;
  readonly instrument: 'guitar' | 'bass';
}> {
  for (let level = 1; level <= LEVELS; level++)
    for (let seed = 0; seed < SEEDS; seed++)
      yield { level, seed: 7919 * seed + level, instrument: INSTRUMENTS[seed % 2]! };
}

/** Material: a thousand tests of a kind. */
export function* testsOf(kind: TestKind | 'reading'): Generator<Question> {
  for (const request of requests())
    yield {
      id: `${kind} level ${request.level} seed ${request.seed}`,
      ask: ({ engine }) =>
        kind === 'reading' ? engine.makeReading(request) : engine.makeTest({ kind, ...request }),
    };
}

/** Marks: the graded takes of a folder, as bench:marks marks them. */
export function* gradedTakes(folder: string): Generator<Question> {
  for (const set of SETS)
    for (const [k, { request }] of (load(folder, set) ?? []).entries())
      yield { id: `${set.name} ${k}`, ask: ({ engine }) => engine.markTake(request) };
}

/** Marks: a take by a simulated student of each of a thousand tests of a kind. */
export function* simulatedTakes(kind: TestKind): Generator<Question> {
  const mind = learner({ seed: 1, mayBeWeak: ['third-up', 'step-down', 'after-rest', 'degree-5'] });
  for (const request of requests()) {
    const test = makeTest({ kind, ...request });
    const take = mind.take(test);
    yield {
      id: `take of ${kind} level ${request.level} seed ${request.seed}`,
      ask: ({ engine }) => engine.markTask(test, take, { latencyUncertaintyMs: 6 }),
    };
  }
}

/** Ears: each take of a set, heard. @param every 1: all of them, 10: one of ten */
export async function* takes(set: 'dev' | 'fresh', every: number): AsyncGenerator<Question> {
  const banks = await loadBanks();
  if (banks.absent.length > 0) throw new Error(`banks are missing: ${banks.absent.join(', ')}`);
  const recipes: readonly TakeRecipe[] =
    set === 'dev' ? await developmentSet(banks.all) : await freshSet(banks.all);
  for (const recipe of recipes.filter((_, k) => k % every === 0)) {
    const { id, signal, sampleRate, instrument } = recipe.make();
    yield {
      id,
      ask: ({ dsp }) => dsp.hearTake(signal, sampleRate, { instrument, tuning: STANDARD[instrument] }),
    };
  }
}

/** Pages: the signs of a page to read, bar by bar, as the engraver draws them. */
export function* pages(): Generator<Question> {
  for (const request of requests())
    yield {
      id: `page level ${request.level} seed ${request.seed}`,
      ask: ({ engine, notation }) => notation.notate(engine.makeReading(request).phrase),
    };
}

/** Whether a folder holds graded takes. */
export function holdsGrades(folder: string): boolean {
  try {
    readFileSync(join(folder, SETS[0]!.file));
    return true;
  } catch {
    return false;
  }
}
