import { unknownMs } from '../session/latency.ts';
import { MARKER_VERSION, markTask, OPEN_SPAN, takeOf } from '../../tests-engine/index.ts';
import type { AnyMark } from '../../tests-engine/index.ts';
import type { Attempt } from '../../store/index.ts';

/** What the present rule gives for a kept attempt, from its note list; null where it is the rule it was marked by. */
export function newerMark(attempt: Attempt): AnyMark | null {
  return attempt.mark.version >= MARKER_VERSION ? null : markAgain(attempt);
}

/** What the present rule gives for a kept attempt. */
export function markAgain({ test, take, zeroSec, latency, thresholds }: Attempt): AnyMark {
  return markTask(test, takeOf(take, { beatOneSec: zeroSec, latencySec: 0 }, OPEN_SPAN), {
    latencyUncertaintyMs: latency ? unknownMs(latency) : Infinity,
    thresholds,
  });
}
