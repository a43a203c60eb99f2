import type { PartEstimate, Practised, Week } from '../../tests-engine/index.ts';
import { weekCounts } from '../../tests-engine/index.ts';
import type { Json, Store, Student } from '../../store/index.ts';
import { RULE, think } from './think/think.ts';

/** What the desk keeps of a student, so that forty of them are shown without reading five thousand attempts. */
interface Kept {
  /** The attempts of the last {@link DAYS} days, without their notes. */
  readonly recent: readonly Practised[];
  readonly lastAtMs: number | null;
  readonly trouble: readonly PartEstimate[];
}

/** The week as the desk shows it: strict tests, and how many relaxed ones beside them. */
export interface DeskWeek extends Week {
  readonly relaxed: number;
}

const NAME = 'week';
/** The week and the four before it. */
const DAYS = 35;

function weekFrom(kept: Kept, nowMs: number): DeskWeek {
  return {
    ...weekCounts(kept.recent, 'strict', nowMs),
    relaxed: weekCounts(kept.recent, 'relaxed', nowMs).tests,
    lastAtMs: kept.lastAtMs,
    trouble: kept.trouble,
  };
}

/** The weeks that are known at once, by student. */
export async function knownWeeks(store: Store, nowMs: number): Promise<ReadonlyMap<string, DeskWeek>> {
  const kept = await store.derived.all(NAME, RULE);
  return new Map([...kept].map(([id, value]) => [id, weekFrom(value as unknown as Kept, nowMs)]));
}

/** The week of one student, worked out where it is not known. */
export async function weekOfStudent(store: Store, { id }: Student, nowMs: number): Promise<DeskWeek> {
  const kept = await store.derived.recall(id, NAME, RULE, async () => {
    const digests = await store.attempts.digests(id);
    const since = nowMs - DAYS * 86_400_000;
    const made: Kept = {
      recent: digests.filter(({ atMs }) => atMs > since).map((one) => ({ ...one, pitch: [], time: [] })),
      lastAtMs: digests.reduce<number | null>((last, { atMs }) => Math.max(last ?? 0, atMs), null),
      trouble: await think((far) => far.troubles(digests, 'strict')),
    };
    return made as unknown as Json;
  });
  return weekFrom(kept as unknown as Kept, nowMs);
}
