import { dateBy } from '../messages.ts';

/** A Monday. */
const MONDAY_MS = Date.UTC(2024, 0, 1);
const DAY_MS = 86_400_000;

/** "Tuesday" in the reader's language; 0 = Monday … 6 = Sunday. */
export const weekdayText = (weekday: number): string =>
  dateBy({ weekday: 'long', timeZone: 'UTC' }, MONDAY_MS + weekday * DAY_MS);

/** "Sat 5 Dec" of "2026-12-05". */
export const dayText = (day: string): string =>
  dateBy(
    { weekday: 'short', day: 'numeric', month: 'short', timeZone: 'UTC' },
    Date.parse(`${day}T00:00:00Z`),
  );

/** The local day of an instant, "2026-11-28". */
export function dayOf(date: Date): string {
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}

/** 0 = Monday … 6 = Sunday, by the local calendar. */
export const weekdayOf = (date: Date): number => (date.getDay() + 6) % 7;

/** The day of the next lesson after today; null without a lesson day: in a week. */
export function nextLesson(lessonDay: number | null, today: Date): string {
  const ahead = lessonDay === null ? 7 : ((lessonDay - weekdayOf(today) + 6) % 7) + 1;
  return dayOf(new Date(today.getFullYear(), today.getMonth(), today.getDate() + ahead));
}

/** The local month of an instant, "2026-11". */
export const monthOf = (atMs: number): string => dayOf(new Date(atMs)).slice(0, 7);

/** The months in which something was played, the newest first. */
export const monthsIn = (record: readonly { readonly atMs: number }[]): string[] =>
  [...new Set(record.map(({ atMs }) => monthOf(atMs)))].sort().reverse();
