import { estimate, weakest } from '../../../src/tests-engine/index.ts';
import { PANEL, REGULAR, USUAL_NAME } from './panel.ts';
import type { PartId } from '../../../src/tests-engine/index.ts';
import type { PolicyName } from './policies.ts';
import { simulate } from './simulate.ts';

export interface Naming {
  readonly runs: number;
  /** Of the parts that come up regularly, the truly weakest: shares of runs in which it was named first, within three. */
  readonly first: number;
  readonly three: number;
  /** The same of all parts that the student met in at least ten notes, however seldom or always together. */
  readonly strictThree: number;
  /** Chance of hitting within three by naming at random among the parts met, and among the regular ones. */
  readonly chanceMet: number;
  readonly chanceRegular: number;
  readonly partsMet: number;
}

/**
 * Sixty tests, real marker; is the true weakest part at the end among the first three named, of all parts? Seeds from 100,000 on. `rate` as in the panel, or a third of it.
 */
const FEWEST = 10;
export function naming(runs: number, policy: PolicyName, rate: number): Naming {
  let [first, three, strictThree] = [0, 0, 0];
  const met: number[] = [];
  for (let i = 0; i < runs; i++) {
    const options = { ...PANEL[USUAL_NAME], rate, notYet: 1.5, seed: 100_000 + i, mayBeWeak: REGULAR };
    const { record, mind } = simulate(options, policy, false, 5);
    const named = weakest(estimate(record, 'strict'));
    const known = named.filter(({ seen }) => seen >= FEWEST).map(({ part }) => part);
    const least = (of: readonly PartId[]) =>
      of.reduce((a, b) => (mind.strength(b) < mind.strength(a) ? b : a));
    met.push(named.length);
    const parts = named.map(({ part }) => part);
    const truth = least(REGULAR);
    if (parts[0] === truth) first += 1;
    if (parts.slice(0, 3).includes(truth)) three += 1;
    if (parts.slice(0, 3).includes(least(known))) strictThree += 1;
  }
  const partsMet = met.reduce((sum, n) => sum + n, 0) / met.length;
  return {
    ...{ runs, first: first / runs, three: three / runs, strictThree: strictThree / runs, partsMet },
    ...{ chanceMet: 3 / partsMet, chanceRegular: 3 / REGULAR.length },
  };
}
