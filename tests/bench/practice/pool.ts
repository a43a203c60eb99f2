import type { PracticeTest, TestKind } from '../../../src/music/score.ts';
import { makeTest } from '../../../src/tests-engine/index.ts';

/** Tests are made once and kept: a choice weighs the same ones for many simulated students. */
const POOL = new Map<string, PracticeTest>();
/** More tests of a kind and level than a student of sixty tests can use up. */
export const SEEDS = 300;

export interface Request {
  readonly kind: TestKind;
  readonly level: number;
  readonly seed: number;
}
/** Seeds are taken modulo {@link SEEDS}. */
export function pooled({ kind, level, seed }: Request): PracticeTest {
  const small = seed % SEEDS;
  const key = `${kind} ${level} ${small}`;
  const made = POOL.get(key) ?? makeTest({ kind, level, seed: small, instrument: 'guitar' });
  POOL.set(key, made);
  return made;
}
export const KINDS = ['melody', 'rhythm'] as const;
