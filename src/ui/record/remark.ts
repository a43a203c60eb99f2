import { unknownMs } from '../session/latency.ts';
import { markTest, MARKER_VERSION } from '../../tests-engine/index.ts';
import type { Mark } from '../../tests-engine/index.ts';
import type { Attempt } from '../../store/index.ts';

/** What the present rule gives for a kept attempt, from its note list; null where it is the rule it was marked by. */
export function newerMark({ test, take, zeroSec, latency, thresholds, mark }: Attempt): Mark | null {
  if (mark.version >= MARKER_VERSION) return null;
  return markTest(test, take, {
    zeroSec,
    latencyUncertaintyMs: latency ? unknownMs(latency) : Infinity,
    thresholds,
  });
}
