import type { PracticeTest } from '../../../src/music/score.ts';
import { practised } from '../../../src/tests-engine/index.ts';
import type { Mark, PartId, Practised } from '../../../src/tests-engine/index.ts';
import { learner, source } from '../../tests-engine/progress/learner.ts';
import type { Answer, Learner, LearnerOptions } from '../../tests-engine/progress/learner.ts';
import { POLICIES } from './policies.ts';
import type { PolicyName } from './policies.ts';
import { KINDS, pooled } from './pool.ts';

export const TESTS = 60;
/** A curve has a point every so many tests. */
export const EVERY = 10;
const DAY_MS = 86_400_000;

export interface Measures {
  /** True chance of a note at the student's own level and the two above it: what comes next for them. */
  readonly ahead: number;
  /** The same over all ten levels. */
  readonly ladder: number;
  /** Strength of the planted part, logits. */
  readonly planted: number;
}
export interface Run {
  readonly own: number;
  readonly curve: readonly Measures[];
  /** Of each test: the chance foretold (null: by no one), the true chance on a usual day, how it ended, its level. */
  readonly tests: readonly { chance: number | null; truth: number; there: boolean; level: number }[];
  readonly record: readonly Practised[];
  readonly mind: Learner;
}

/** Marks by counting: a note that is not both found and in time costs 100/n. For trying things out only. */
export function countedMark(test: PracticeTest, answers: readonly Answer[]): Mark {
  const wrong = answers.filter(({ found, inTime }) => !found || !inTime).length;
  const mark = 100 * (1 - wrong / answers.length);
  const verdicts = answers.map(({ found, inTime }, targetIndex) => ({
    ...{ kind: found ? (inTime ? 'right' : 'late') : inTime ? 'wrong' : 'missed', targetIndex },
    ...{ playedIndex: null, errorMs: 0, errorSemitones: 0, unclear: false },
  }));
  const timing = { biasMs: 0, unevennessMs: 15, driftPercent: 0, tempoRatio: 1 };
  const outcome = mark >= 85 ? 'there' : mark >= 60 ? 'close' : 'not-yet';
  return { mark, outcome, verdicts, timing, test } as unknown as Mark;
}

/** Eight tests of a kind and level, apart from those that chance hands out first. */
const battery = (levels: readonly number[], each: number): PracticeTest[] =>
  levels.flatMap((level) =>
    KINDS.flatMap((kind) => Array.from({ length: each }, (_, i) => pooled({ kind, level, seed: 280 + i }))),
  );
const ALL = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];
const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;

/** The level whose tests succeed nearest to four times in five, both kinds together. */
export function ownLevel(mind: Learner): number {
  const miss = (level: number) => Math.abs(mean(battery([level], 6).map(mind.thereChance)) - 0.8);
  return ALL.reduce((best, level) => (miss(level) < miss(best) ? level : best));
}

/** One student, sixty tests, three a day and one day of rest a week, melody and rhythm in turn. */
export function simulate(
  options: LearnerOptions & { readonly mayBeWeak: readonly PartId[] },
  policyName: PolicyName,
  counted = false,
  own?: number,
): Run {
  const mind = learner(options);
  const level = own ?? ownLevel(mind);
  const { uniform } = source(options.seed + 1);
  const policy = POLICIES[policyName]({ own: level, uniform, thereChance: mind.thereChance });
  const ahead = battery(
    [level, level + 1, level + 2].filter((one) => one <= 10),
    6,
  );
  const ladder = battery(ALL, 2);
  const look = (): Measures => ({
    ahead: mean(ahead.map(mind.ability)),
    ladder: mean(ladder.map(mind.ability)),
    planted: mind.strength(mind.planted),
  });
  const curve: Measures[] = [];
  const tests: Run['tests'][number][] = [];
  const record: Practised[] = [];
  for (let n = 0; n < TESTS; n++) {
    const day = Math.floor(n / 3);
    const rest = day > 0 && day % 6 === 0 ? 2 : 1;
    if (n % 3 === 0) mind.newDay(n === 0 ? 0 : rest);
    if (n % EVERY === 0) curve.push(look());
    const { test, chance } = policy.next(KINDS[n % 2]!);
    const truth = mind.thereChance(test);
    const mark = counted ? countedMark(test, mind.answer(test)) : mind.play(test);
    const facts = { id: String(n), atMs: (day + Math.floor(day / 6)) * DAY_MS, order: n + 1 };
    const attempt = practised({ ...facts, test, manner: 'strict', mark });
    tests.push({ chance, truth, there: mark.outcome === 'there', level: test.level! });
    policy.saw(attempt);
    record.push(attempt);
  }
  curve.push(look());
  return { own: level, curve, tests, record, mind };
}
