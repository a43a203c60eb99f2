import { dateBy, t } from '../messages.ts';
import type { MessageKey } from '../messages.ts';
import type { StudioProblemCode } from '../../studio/index.ts';
import type { Standing } from './state.svelte.ts';

const SAID: Partial<Record<StudioProblemCode, Extract<MessageKey, `studio.problem.${string}`>>> = {
  offline: 'studio.problem.offline',
  'unknown-device': 'studio.problem.unknown-device',
  'student-gone': 'studio.problem.student-gone',
  'bad-invite': 'studio.problem.bad-invite',
  'old-schema': 'studio.problem.old-schema',
  'newer-protocol': 'studio.problem.newer-protocol',
  full: 'studio.problem.full',
  'too-often': 'studio.problem.too-often',
};

/** What stood in the way, and what to do. */
export const problemText = (code: StudioProblemCode): string => t(SAID[code] ?? 'studio.problem.other');

const DAY_MS = 86_400_000;

/** "14:05" of today, "Tuesday" of this week, else the date. */
export function whenText(ms: number, nowMs: number): string {
  const age = nowMs - ms;
  if (new Date(ms).toDateString() === new Date(nowMs).toDateString())
    return dateBy({ hour: 'numeric', minute: '2-digit' }, ms);
  return dateBy(
    age < 6 * DAY_MS ? { weekday: 'long' } : { day: 'numeric', month: 'short', year: 'numeric' },
    ms,
  );
}

/** How the studio stands: "all sent", "3 changes to send; last seen Tuesday", or what stands in the way. */
export function standingText({ pending, seenMs, problem }: Standing, nowMs: number): string {
  const what = pending === 0 ? t('studio.line.all') : t('studio.line.pending', { count: pending });
  if (problem !== null && problem !== 'offline') return problemText(problem);
  if (seenMs === null) return t('studio.line.never', { what });
  if (problem === null && pending === 0) return what;
  return t('studio.line.seen', { what, when: whenText(seenMs, nowMs) });
}
