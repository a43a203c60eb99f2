import { partsOf } from './parts.ts';
import { saidOf, setOf } from './practised.ts';
import type { Channel, Practised } from './types.ts';

/**
 * When a part is due again, counted in tests. After a test in which it went well the wait doubles
 * (expanding retrieval: Landauer & Bjork 1978, "Optimum rehearsal patterns and name learning"; the best gap
 * grows with the time the memory must last: Cepeda et al. 2008, "Spacing effects in learning"); one failure
 * and it begins again at 1.
 */
export interface Return {
  wait: number;
  since: number;
}
export type Returns = Readonly<Record<Channel, Return[]>>;

/** A month at two tests a day would be 60; a part that is sure by then comes up by itself. */
const LONGEST_WAIT = 32;
/** Went well: at most one note in five with the part went wrong. */
const WENT_WELL = 0.8;

export const noReturns = (): Returns => ({
  pitch: partsOf('pitch').map(() => ({ wait: 1, since: 0 })),
  time: partsOf('time').map(() => ({ wait: 1, since: 0 })),
});

/** Takes the next attempt in, in place. */
export function cameUp(returns: Returns, attempt: Practised): void {
  for (const channel of ['pitch', 'time'] as const)
    returns[channel].forEach((one, part) => {
      const said = attempt[channel].filter((packed) => (setOf(packed) >> part) & 1).map(saidOf);
      const judged = said.filter((right) => right !== null);
      if (judged.length === 0) {
        one.since += 1;
        return;
      }
      const share = judged.filter((right) => right).length / judged.length;
      one.wait = share >= WENT_WELL ? Math.min(LONGEST_WAIT, one.wait * 2) : 1;
      one.since = 0;
    });
}
