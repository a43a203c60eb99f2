import type { TestKind } from '../../../music/score.ts';
import type { Practised, Trend } from '../../../tests-engine/index.ts';
import { trend } from '../../../tests-engine/index.ts';
import { t } from '../../messages.ts';

/** One small plot: its title, the values in order, and what they say. */
export interface Series {
  /** Under which heading it stands. */
  readonly of: TestKind | 'timing';
  readonly title: string;
  readonly unit: 'mark' | 'ms';
  readonly atMs: readonly number[];
  readonly trend: Trend;
  readonly caption: string;
}

/** A mark scatters by this much for no reason one could name: no band is drawn narrower. */
const FLOOR = 5;
/** More points than this cannot be told apart in a small plot; older ones are in the table of a backup. */
const MOST_POINTS = 200;

const round = (value: number): string => String(Math.round(value)).replace('-', '−');

function series(
  of: Series['of'],
  title: string,
  unit: Series['unit'],
  points: readonly (readonly [number, number])[],
): Series {
  const kept = points.slice(-MOST_POINTS);
  const found = trend(
    kept.map(([, value]) => value),
    FLOOR,
  );
  const last = found.points[found.points.length - 1]!;
  const fit = (value: number): number => (unit === 'mark' ? Math.max(0, Math.min(100, value)) : value);
  const caption = t('progress.caption', {
    count: t('progress.count', { count: points.length }),
    direction: t(`progress.direction.${found.direction}`),
    last: round(last.value),
    level: round(last.level),
    low: round(fit(last.low)),
    high: round(fit(last.high)),
  });
  return { of, title, unit, atMs: kept.map(([atMs]) => atMs), trend: found, caption };
}

/** The plots of a record of one manner: marks by kind and level, then bias and unevenness. */
export function seriesOf(record: readonly Practised[]): Series[] {
  const order = [...record].sort((a, b) => a.order - b.order);
  const pointsOf = (pick: (one: Practised) => number | null) =>
    order.flatMap((one) => {
      const value = pick(one);
      return value === null ? [] : [[one.atMs, value] as const];
    });
  const found: Series[] = [];
  const add = (
    of: Series['of'],
    title: string,
    unit: Series['unit'],
    pick: Parameters<typeof pointsOf>[0],
  ) => {
    const points = pointsOf(pick);
    if (points.length > 0) found.push(series(of, title, unit, points));
  };
  for (const kind of ['melody', 'rhythm'] as const) {
    const name = t(`start.kind.${kind}`);
    const own = order.filter((one) => one.kind === kind);
    // Own phrases have no level and come last.
    const levels = [...new Set(own.map(({ level }) => level))].sort((a, b) => (a ?? 99) - (b ?? 99));
    for (const level of levels)
      add(
        kind,
        level === null
          ? t('progress.series.own', { kind: name })
          : t('progress.series', { kind: name, level }),
        'mark',
        (one) => (one.kind === kind && one.level === level ? one.mark : null),
      );
  }
  add('timing', t('progress.bias'), 'ms', ({ biasMs }) => biasMs);
  add('timing', t('progress.uneven'), 'ms', ({ unevennessMs }) => unevennessMs);
  return found;
}
