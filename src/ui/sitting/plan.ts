import * as v from 'valibot';
import type { SittingSetup } from '../../music/sitting.ts';
import { calendarFile } from '../../exchange/index.ts';
import type { KeptSitting } from '../../store/index.ts';
import {
  estimateUnit,
  evidenceFrom,
  planDays,
  planUnits,
  type Evidence,
  type PlanDay,
  type PlanItem,
  type Practised,
  type Unit,
  type UnitEstimate,
} from '../../tests-engine/index.ts';
import { numberText, t } from '../messages.ts';
import { dayOf, weekdayOf } from '../record/days.ts';

/** When the player practises: kept for each student. */
export interface PlanHours {
  /** 0 = Monday … 6 = Sunday. */
  readonly weekdays: readonly number[];
  /** A day, 5…300. */
  readonly minutes: number;
}
/** Five days a week, half an hour: to be changed at once. */
export const USUAL_HOURS: PlanHours = { weekdays: [0, 1, 2, 3, 4], minutes: 30 };

const hours = v.strictObject({
  weekdays: v.pipe(v.array(v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(6))), v.maxLength(7)),
  minutes: v.pipe(v.number(), v.integer(), v.minValue(5), v.maxValue(300)),
});
/** What was kept; the usual where it does not fit. */
export function readHours(kept: unknown): PlanHours {
  const parsed = v.safeParse(hours, kept);
  return parsed.success ? parsed.output : USUAL_HOURS;
}

/** Whole days from today to another day of the calendar; negative where it is over. */
export function daysAhead(day: string, today: Date): number {
  const from = Date.parse(`${dayOf(today)}T00:00:00Z`);
  return Math.round((Date.parse(`${day}T00:00:00Z`) - from) / 86_400_000);
}

/** The day so many days from today. */
export const dayAhead = (ahead: number, today: Date): string =>
  dayOf(new Date(today.getFullYear(), today.getMonth(), today.getDate() + ahead));

export interface Planned {
  readonly units: readonly { readonly unit: Unit; readonly estimate: UnitEstimate }[];
  readonly days: readonly PlanDay[];
  /** What of today's list was played today. */
  readonly playedToday: ReadonlySet<Unit['what']>;
}

/** The plan as it stands now, out of the record. */
export function planNow(given: {
  readonly setup: SittingSetup;
  readonly digests: readonly Practised[];
  readonly sittings: readonly KeptSitting[];
  readonly examOn: string;
  readonly hours: PlanHours;
  readonly there: number;
  readonly now: Date;
}): Planned {
  const { setup, digests, sittings, examOn, there, now } = given;
  const units = planUnits(setup);
  const evidence: Evidence[] = evidenceFrom(digests, sittings, there);
  const todayMs = new Date(now.getFullYear(), now.getMonth(), now.getDate()).getTime();
  // Today's list stands until the day is over: what is played of it is ticked, and does not change it.
  const before = evidence.filter(({ atMs }) => atMs < todayMs);
  const days = planDays({
    ...{ setup, units, there, todayMs },
    evidence: before,
    sittingsAtMs: sittings.map(({ atMs }) => atMs).filter((atMs) => atMs < todayMs),
    nowMs: todayMs,
    todayWeekday: weekdayOf(now),
    examAhead: daysAhead(examOn, now),
    ...given.hours,
  });
  return {
    units: units.map((unit) => ({ unit, estimate: estimateUnit(unit, evidence, now.getTime(), there) })),
    days,
    playedToday: new Set(evidence.filter(({ atMs }) => atMs >= todayMs).map(({ what }) => what)),
  };
}

export const unitName = ({ what }: Unit): string => t(`sitting.station.${what}`);

export const itemText = ({ unit, minutes, why }: PlanItem): string =>
  t('plan.item', { station: unitName(unit), minutes: numberText(minutes), why: t(`plan.why.${why}`) });

/** Everything of a day, a line each. */
const dayLines = ({ mockMinutes, items }: PlanDay): string[] => [
  ...(mockMinutes === null ? [] : [t('plan.mock', { minutes: numberText(mockMinutes) })]),
  ...items.map(itemText),
];

/** A day to come in few lines: what has as many minutes in one, the longest first. */
export function dayGroups({ mockMinutes, items }: PlanDay): string[] {
  const minutes = [...new Set(items.map((item) => item.minutes))].sort((a, b) => b - a);
  return [
    ...(mockMinutes === null ? [] : [t('plan.mock', { minutes: numberText(mockMinutes) })]),
    ...minutes.map((each) => {
      const own = items.filter((item) => item.minutes === each).map(({ unit }) => unitName(unit));
      return t('plan.group', { count: own.length, minutes: numberText(each), what: own.join(', ') });
    }),
  ];
}

/** "about 7 of 10 would come out …", or why nothing is foretold. */
export function estimateText(estimate: UnitEstimate): string {
  if (estimate.is === 'unmarked') return t('plan.unmarked');
  if (estimate.is === 'unknown') return t('plan.unknown', { count: estimate.more });
  const ten = (chance: number): string => numberText(Math.round(10 * chance));
  return t('plan.estimate', {
    n: ten(estimate.chance),
    low: numberText(Math.floor(10 * estimate.low)),
    high: numberText(Math.min(10, Math.ceil(10 * estimate.high))),
  });
}

/** More names than these are no title: of a longer list, what has most minutes of the day. */
const TITLE = 3;
function dayTitle({ mockMinutes, items }: PlanDay): string {
  const names = (some: readonly PlanItem[]): string[] => some.map(({ unit }) => unitName(unit));
  const least = Math.min(...items.map(({ minutes }) => minutes));
  const longest = items
    .filter(({ minutes }) => minutes > least)
    .sort((a, b) => b.minutes - a.minutes)
    .slice(0, TITLE);
  const short = items.length <= TITLE || longest.length === 0;
  return [
    ...(mockMinutes === null ? [] : [t('plan.mock.is')]),
    ...(short ? names(items) : [t('plan.above-all', { what: names(longest).join(', ') })]),
  ].join(', ');
}

/** The days of a plan, and the exam, as a calendar file. */
export function planCalendar(
  days: readonly PlanDay[],
  examOn: string,
  setup: SittingSetup,
  now: Date,
): string {
  return calendarFile(
    [
      ...days.map((day) => ({
        day: dayAhead(day.ahead, now),
        title: t('plan.event', { what: dayTitle(day) }),
        text: dayLines(day).join('\n'),
      })),
      { day: examOn, title: t('plan.event.exam'), text: setup.name },
    ],
    setup.id,
    now.getTime(),
  );
}
