import { MAY_BE_WEAK, PANEL } from './panel.ts';
import { POLICY_NAMES } from './policies.ts';
import type { PolicyName } from './policies.ts';
import { simulate, TESTS } from './simulate.ts';

/** What became of one policy with one kind of student; gains in notes of 100. */
export interface Lift {
  readonly policy: PolicyName;
  /** Mean true chance of a note at the student's own level and the two above it, every ten tests. */
  readonly curve: readonly number[];
  readonly ahead: number;
  readonly ladder: number;
  /** Adaptive minus this policy, mean over the same students and half of its 95 % interval. */
  readonly lead: { readonly ahead: Interval; readonly ladder: Interval };
  /** The weakest part at the end, logits, mean. */
  readonly planted: number;
  /** Share of tests that ended "there". */
  readonly there: number;
  readonly level: number;
}
export interface Interval {
  readonly mean: number;
  readonly half: number;
}
export interface VariantLift {
  readonly variant: string;
  readonly students: number;
  readonly marker: 'real' | 'counted';
  readonly lifts: readonly Lift[];
  /** Of the adaptive tests: chance foretold, whether it ended "there", by test number. */
  readonly foretold: readonly { readonly chance: number; readonly there: boolean; readonly n: number }[];
}

const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;
/** Normal 95 % interval of a mean; from 24 students on Student's t is 6 % wider, no more. */
function interval(values: readonly number[]): Interval {
  const m = mean(values);
  const variance = values.reduce((sum, v) => sum + (v - m) ** 2, 0) / Math.max(1, values.length - 1);
  return { mean: m, half: 1.96 * Math.sqrt(variance / values.length) };
}

/** Seeds from 300,000 on: the choice was developed on seeds 1,000–1,031. */
export function liftOf(variant: string, students: number, marker: VariantLift['marker']): VariantLift {
  const foretold: VariantLift['foretold'][number][] = [];
  const own = new Map<number, number>();
  const ended = new Map<PolicyName, { ahead: number[]; ladder: number[] }>();
  const lifts = POLICY_NAMES.map((policy): Lift => {
    const runs = Array.from({ length: students }, (_, i) => {
      const options = { ...PANEL[variant], seed: 300_000 + i, mayBeWeak: MAY_BE_WEAK };
      const run = simulate(options, policy, marker === 'counted', own.get(i));
      own.set(i, run.own);
      return run;
    });
    if (policy === 'adaptive')
      for (const { tests } of runs)
        tests.forEach(({ chance, there }, n) => foretold.push({ chance: chance!, there, n }));
    const gain = (of: 'ahead' | 'ladder') =>
      runs.map(({ curve }) => 100 * (curve.at(-1)![of] - curve[0]![of]));
    const gains = { ahead: gain('ahead'), ladder: gain('ladder') };
    ended.set(policy, gains);
    const lead = (of: 'ahead' | 'ladder') =>
      interval(gains[of].map((value, i) => ended.get('adaptive')![of][i]! - value));
    const tests = runs.flatMap((run) => run.tests);
    return {
      policy,
      curve: runs[0]!.curve.map((_, k) => mean(runs.map(({ curve }) => curve[k]!.ahead))),
      ahead: mean(gains.ahead),
      ladder: mean(gains.ladder),
      lead: { ahead: lead('ahead'), ladder: lead('ladder') },
      planted: mean(runs.map(({ curve }) => curve.at(-1)!.planted)),
      there: tests.filter(({ there }) => there).length / (TESTS * students),
      level: mean(tests.map(({ level }) => level)),
    };
  });
  return { variant, students, marker, lifts, foretold };
}
