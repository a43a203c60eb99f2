import { makeTest, practised } from '../../../src/tests-engine/index.ts';
import type { PracticeTest } from '../../../src/music/score.ts';
import type { NewAttempt } from '../../../src/store/index.ts';
import { learner, source } from '../../tests-engine/progress/learner.ts';
import { markTask } from '../../../src/tests-engine/index.ts';

export { practised };

/** A finished attempt as the session would hand it over; a different one for each number. */
export function sampleAttempt(
  studentId: string,
  n: number,
  homeworkId: string | null = null,
): NewAttempt & { readonly test: PracticeTest } {
  const kind = n % 2 ? 'rhythm' : 'melody';
  const test = makeTest({ kind, level: 1 + (n % 5), seed: n, instrument: 'guitar' });
  const mind = learner({ seed: n, mayBeWeak: ['third-up', 'step-down', 'after-rest', 'degree-5'] });
  const take = mind.take(test);
  return {
    studentId,
    homeworkId,
    test,
    manner: n % 7 === 6 ? 'relaxed' : 'strict',
    help: n % 7 === 6 ? { repeat: 2, slower: 1 } : {},
    take,
    zeroSec: 0,
    latency: { ms: 92.5, uncertaintyMs: 6 },
    listenerVersion: 1,
    mark: markTask(test, take, { latencyUncertaintyMs: 6 }),
    thresholds: { there: 85, close: 60 },
    answer: kind === 'rhythm' ? (n % 4 === 1 ? 'A' : 'B') : null,
  };
}

/** A seeded source of whole numbers below `n`, for mutations. */
export function die(seed: number): (n: number) => number {
  const { uniform } = source(seed);
  return (n) => Math.floor(uniform() * n);
}
