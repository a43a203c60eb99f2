/** One whole day in a calendar. */
export interface CalendarDay {
  /** "2026-11-28". */
  readonly day: string;
  readonly title: string;
  /** May hold line ends. */
  readonly text: string;
}

/** Octets of a line without its end (RFC 5545, 3.1). */
const LINE_OCTETS = 75;

/** TEXT values: backslash, semicolon, comma and line ends are escaped (RFC 5545, 3.3.11); other control characters go. */
const escaped = (text: string): string =>
  text
    .replace(/[\\;,]/g, (sign) => `\\${sign}`)
    .replace(/\r\n|\r|\n/g, '\\n')
    .replace(/[\u0000-\u0008\u000b-\u001f\u007f]/g, '');

const octetsOf = (sign: string): number => new TextEncoder().encode(sign).length;

/** A content line in pieces of 75 octets at most, never within a character; what follows begins with a space. */
function folded(line: string): string {
  let out = '';
  let octets = 0;
  for (const sign of line) {
    const size = octetsOf(sign);
    if (octets + size > LINE_OCTETS) {
      out += '\r\n ';
      octets = 1;
    }
    out += sign;
    octets += size;
  }
  return out;
}

/** The day after, by the calendar: a whole day ends where the next begins (RFC 5545, 3.6.1). */
const nextDay = (day: string): string =>
  new Date(Date.parse(`${day}T00:00:00Z`) + 86_400_000).toISOString().slice(0, 10);
const dateOf = (day: string): string => day.replaceAll('-', '');

/**
 * Whole days as an iCalendar file (RFC 5545): one event a day, none with a time, as the plan has days and not hours. The
 * same day of the same name has the same UID, so that a newer file takes an older one's place.
 * @param stampMs when it was made, ms since 1970; @param name tells this plan's events from others
 * @throws RangeError for a day that is none
 */
export function calendarFile(days: readonly CalendarDay[], name: string, stampMs: number): string {
  const wrong = days.find(({ day }) => !/^\d{4}-\d\d-\d\d$/.test(day) || Number.isNaN(Date.parse(day)));
  if (wrong) throw new RangeError(`a day is written like 2026-11-28, got ${wrong.day}`);
  const stamp = `${new Date(stampMs).toISOString().replace(/[-:]|\.\d+/g, '')}`;
  const safe = name.replace(/[^A-Za-z0-9-]/g, '') || 'plan';
  const events = days.flatMap(({ day, title, text }) => [
    'BEGIN:VEVENT',
    `UID:${safe}-${dateOf(day)}@twobar.invalid`,
    `DTSTAMP:${stamp}`,
    `DTSTART;VALUE=DATE:${dateOf(day)}`,
    `DTEND;VALUE=DATE:${dateOf(nextDay(day))}`,
    `SUMMARY:${escaped(title)}`,
    ...(text === '' ? [] : [`DESCRIPTION:${escaped(text)}`]),
    'TRANSP:TRANSPARENT',
    'END:VEVENT',
  ]);
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Twobar//Plan//EN',
    'CALSCALE:GREGORIAN',
    'METHOD:PUBLISH',
    ...events,
    'END:VCALENDAR',
  ];
  return `${lines.map(folded).join('\r\n')}\r\n`;
}
