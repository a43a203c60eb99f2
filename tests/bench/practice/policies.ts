import type { PracticeTest, TestKind } from '../../../src/music/score.ts';
import { chooseFrom, noKnowledge, takeIn } from '../../../src/tests-engine/index.ts';
import type { Practised } from '../../../src/tests-engine/index.ts';
import { pooled, SEEDS } from './pool.ts';

/** What decides which test comes next; made anew for each student, whose own level it is told. */
export interface Policy {
  readonly next: (kind: TestKind) => { readonly test: PracticeTest; readonly chance: number | null };
  readonly saw: (attempt: Practised) => void;
}
export interface Seat {
  /** The level at which about four tests in five succeed at the start. */
  readonly own: number;
  readonly uniform: () => number;
  /** True chance that a test ends "there" on a usual day: for the policy that is told the truth. */
  readonly thereChance: (test: PracticeTest) => number;
}

const HIGHEST = 10;
export const THERE = 85;
const ON_A_USUAL_DAY = 0.9;
const clamp = (level: number): number => Math.min(HIGHEST, Math.max(1, level));

const drawn = (levelOf: (kind: TestKind) => number, uniform: () => number, saw: Policy['saw']): Policy => ({
  next: (kind) => {
    const level = levelOf(kind);
    return { test: pooled({ kind, level, seed: Math.floor(SEEDS * uniform()) }), chance: null };
  },
  saw,
});

export const POLICIES = {
  /** Twobar's choice, told only the student's own level to begin at. */
  adaptive: ({ own }: Seat): Policy => {
    const known = noKnowledge('strict', THERE);
    return {
      next: (kind) => chooseFrom(known, { manner: 'strict', kind, level: own, there: THERE, make: pooled }),
      saw: (attempt) => takeIn(known, attempt as Parameters<typeof takeIn>[1]),
    };
  },
  /** Any test of the whole ladder. */
  'random, whole ladder': ({ uniform }: Seat): Policy =>
    drawn(
      () => 1 + Math.floor(HIGHEST * uniform()),
      uniform,
      () => {},
    ),
  /** Any test of the student's own level at the start, the one under or the one over it. */
  'random, own level ± 1': ({ own, uniform }: Seat): Policy =>
    drawn(
      () => clamp(own - 1 + Math.floor(3 * uniform())),
      uniform,
      () => {},
    ),
  /** The student stays at their level. */
  'random, own level': ({ own, uniform }: Seat): Policy =>
    drawn(
      () => own,
      uniform,
      () => {},
    ),
  /**
   * The student moves: a level up after three tests "there" in a row, one down after one that is not. Three up,
   * one down settles where 79 of 100 succeed (Levitt 1971, "Transformed up-down methods in psychoacoustics").
   */
  'random, own level moves': ({ own, uniform }: Seat): Policy => {
    const at = { melody: { level: own, row: 0 }, rhythm: { level: own, row: 0 } };
    return drawn(
      (kind) => at[kind].level,
      uniform,
      ({ kind, outcome }) => {
        if (kind !== 'melody' && kind !== 'rhythm') return;
        const one = at[kind];
        one.row = outcome === 'there' ? one.row + 1 : 0;
        if (outcome === 'there' && one.row < 3) return;
        one.level = clamp(one.level + (one.row === 3 ? 1 : -1));
        one.row = 0;
      },
    );
  },
  /**
   * What no program can know: any test of the whole ladder that this student passes nine times in ten (± 0.05) on
   * a usual day, which is four in five with the days there are. It tells what is lost by the aim from what is lost
   * by not knowing the student.
   */
  'told the truth, four in five': ({ uniform, thereChance }: Seat): Policy => ({
    next: (kind) => {
      let best: { test: PracticeTest; miss: number } | null = null;
      for (let tried = 0; tried < 300 && (best === null || best.miss > 0.05); tried++) {
        const level = 1 + Math.floor(HIGHEST * uniform());
        const test = pooled({ kind, level, seed: Math.floor(SEEDS * uniform()) });
        const miss = Math.abs(thereChance(test) - ON_A_USUAL_DAY);
        if (best === null || miss < best.miss) best = { test, miss };
      }
      return { test: best!.test, chance: null };
    },
    saw: () => {},
  }),
} as const satisfies Record<string, (seat: Seat) => Policy>;
export type PolicyName = keyof typeof POLICIES;
export const POLICY_NAMES = Object.keys(POLICIES) as PolicyName[];
