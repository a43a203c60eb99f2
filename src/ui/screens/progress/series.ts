import type { Practised, Trend } from '../../../tests-engine/index.ts';
import { trend } from '../../../tests-engine/index.ts';
import { t } from '../../messages.ts';

/** One small plot: its title, the values in order, and what they say. */
export interface Series {
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

function series(title: string, unit: Series['unit'], points: readonly (readonly [number, number])[]): Series {
  const kept = points.slice(-MOST_POINTS);
  const found = trend(
    kept.map(([, value]) => value),
    FLOOR,
  );
  const last = found.points[found.points.length - 1]!;
  const fit = (value: number): number => (unit === 'mark' ? Math.max(0, Math.min(100, value)) : value);
  const caption = t('progress.caption', {
    count: points.length,
    direction: t(`progress.direction.${found.direction}`),
    last: round(last.value),
    level: round(last.level),
    low: round(fit(last.low)),
    high: round(fit(last.high)),
  });
  return { title, unit, atMs: kept.map(([atMs]) => atMs), trend: found, caption };
}

/** The plots of a record of one manner: marks by kind and level, then bias and unevenness. */
export function seriesOf(record: readonly Practised[]): Series[] {
  const marks = new Map<string, [number, number][]>();
  const order = [...record].sort((a, b) => a.order - b.order);
  for (const { kind, level, mark, atMs } of order) {
    if (mark === null) continue;
    const name = t(`start.kind.${kind}`);
    const title =
      level === null ? t('progress.series.own', { kind: name }) : t('progress.series', { kind: name, level });
    marks.set(title, [...(marks.get(title) ?? []), [atMs, mark]]);
  }
  const of = (pick: (one: Practised) => number | null) =>
    order.flatMap((one) => {
      const value = pick(one);
      return value === null ? [] : [[one.atMs, value] as const];
    });
  const bias = of(({ biasMs }) => biasMs);
  const uneven = of(({ unevennessMs }) => unevennessMs);
  return [
    ...[...marks].map(([title, points]) => series(title, 'mark', points)),
    ...(bias.length > 0 ? [series(t('progress.bias'), 'ms', bias)] : []),
    ...(uneven.length > 0 ? [series(t('progress.uneven'), 'ms', uneven)] : []),
  ];
}
