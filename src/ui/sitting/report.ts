import type { Thresholds } from '../../music/outcome.ts';
import type { SittingRun } from '../../music/sitting.ts';
import type { Attempt, KeptSitting, Override, Store } from '../../store/index.ts';
import {
  compareMarks,
  reportOf,
  stationKey,
  type Counted,
  type MarksCompared,
  type SittingReport,
} from '../../tests-engine/index.ts';

/** One take of a sitting as the record has it by now. */
export interface Taken {
  readonly attempt: Attempt;
  readonly overrides: readonly Override[];
}

/** All that the report's page shows. */
export interface Told {
  readonly kept: KeptSitting;
  readonly report: SittingReport;
  readonly taken: ReadonlyMap<string, Taken>;
  /** By station: how its mark stands to earlier sittings of the same player. */
  readonly compared: readonly (MarksCompared | null)[];
}

const idsOf = (run: SittingRun): string[] =>
  run.stations.flatMap(({ played }) => played.flatMap(({ attemptId }) => attemptId ?? []));

async function takenIn(store: Store, ids: readonly string[]): Promise<Map<string, Taken>> {
  const overrides = await store.attempts.overridesOfAll(ids);
  const attempts = await Promise.all(ids.map((id) => store.attempts.get(id)));
  return new Map(
    attempts.flatMap((attempt) =>
      attempt ? [[attempt.id, { attempt, overrides: overrides.get(attempt.id) ?? [] }] as const] : [],
    ),
  );
}

async function countedOf(taken: ReadonlyMap<string, Taken>): Promise<Map<string, Counted>> {
  const { effectiveMark } = await import('../../store/index.ts');
  return new Map(
    [...taken].map(([id, { attempt, overrides }]) => [id, effectiveMark(attempt, [...overrides])] as const),
  );
}

/** A sitting with what the record says of it now, beside the earlier ones. */
export async function tell(store: Store, kept: KeptSitting, thresholds: Thresholds): Promise<Told> {
  const earlier = (await store.sittings.all(kept.studentId)).filter(
    ({ id, atMs }) => id !== kept.id && atMs < kept.atMs,
  );
  const taken = await takenIn(store, [kept.run, ...earlier.map(({ run }) => run)].flatMap(idsOf));
  const counted = await countedOf(taken);
  const report = reportOf(kept.run, thresholds, counted);
  const before = earlier.reverse().flatMap(({ run }) => reportOf(run, thresholds, counted).stations);
  const compared = report.stations.map((one) => {
    const key = stationKey(one.station, one.run.choice);
    const marks = before
      .filter((other) => stationKey(other.station, other.run.choice) === key)
      .flatMap(({ mark }) => mark ?? []);
    return one.mark === null ? null : compareMarks(one.mark, marks);
  });
  return { kept, report, taken, compared };
}
