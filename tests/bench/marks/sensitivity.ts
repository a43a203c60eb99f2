import { kindest, prepare } from '../../../src/tests-engine/marks/prepare.ts';
import type { Rule } from '../../../src/tests-engine/marks/rule.ts';
import type { Take } from './agreement.ts';
import { mean, spearman } from './stats.ts';

/** How much the agreement hangs on each number of the rule: Spearman with it halved and doubled. */
export function sensitivity(takes: readonly Take[], name: string): void {
  const panel = takes.map((t) => mean(t.grades));
  const prepared = takes.map((t) => prepare(t.request));
  const rho = (change: (rule: Rule) => Rule): number =>
    spearman(
      prepared.map((p) => {
        const r = kindest({ ...p, rule: change(p.rule) }, () => 1);
        return -r.cost / p.target.length;
      }),
      panel,
    );
  console.log(`\n| ${name}: number of the rule | halved | as it is | doubled |\n|---|---|---|---|`);
  const now = rho((r) => r);
  for (const key of Object.keys(prepared[0]!.rule) as (keyof Rule)[])
    if (prepared[0]!.rule[key] > 0)
      console.log(
        `| ${key} | ${rho((r) => ({ ...r, [key]: r[key] / 2 })).toFixed(3)} | ${now.toFixed(3)} | ` +
          `${rho((r) => ({ ...r, [key]: r[key] * 2 })).toFixed(3)} |`,
      );
}
