import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { calendarFile, type CalendarDay } from '../../../src/exchange/index.ts';

/** A reader written from RFC 5545 alone (sections 3.1 and 3.3.11), and nothing of the writer. */
function read(file: string): Map<string, string>[] {
  expect(file.endsWith('\r\n')).toBe(true);
  // Every line ends with CRLF, and no other line end stands anywhere.
  expect(file.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
  const lines = file.slice(0, -2).split('\r\n');
  const encoder = new TextEncoder();
  for (const line of lines) expect(encoder.encode(line).length, line).toBeLessThanOrEqual(75);
  const whole = file.replaceAll('\r\n ', '').slice(0, -2).split('\r\n');
  const events: Map<string, string>[] = [];
  for (const line of whole) {
    const at = line.indexOf(':');
    expect(at, line).toBeGreaterThan(0);
    const [name, value] = [line.slice(0, at), line.slice(at + 1)];
    if (line === 'BEGIN:VEVENT') events.push(new Map());
    else if (events.length > 0) events.at(-1)!.set(name, value);
  }
  expect(whole.slice(0, 3)).toEqual(['BEGIN:VCALENDAR', 'VERSION:2.0', expect.stringMatching(/^PRODID:.+/)]);
  expect(whole.at(-1)).toBe('END:VCALENDAR');
  return events;
}
/** TEXT: after a backslash only these may stand, and none of them without one (3.3.11, ESCAPED-CHAR and TSAFE-CHAR). */
const TEXT = /^(?:\\[\\;,nN]|[^\\;,])*$/u;
const unescaped = (text: string): string => {
  expect(text).toMatch(TEXT);
  return text.replace(/\\([\\;,nN])/g, (_, sign: string) => (sign.toLowerCase() === 'n' ? '\n' : sign));
};

const dayArb = fc
  .integer({ min: 0, max: 36_000 })
  .map((n) => new Date(Date.UTC(2001, 0, 1) + n * 86_400_000).toISOString().slice(0, 10));
const textArb = fc.string({ unit: 'grapheme', maxLength: 300 });

describe('a calendar file (RFC 5545)', () => {
  it('has lines of 75 octets at most ended by CRLF, and gives every text back as it was', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.record({ day: dayArb, title: textArb, text: textArb }), {
          selector: ({ day }) => day,
          maxLength: 6,
        }),
        (days: CalendarDay[]) => {
          const events = read(calendarFile(days, 'plan', Date.UTC(2026, 10, 28, 9, 5, 3)));
          expect(events).toHaveLength(days.length);
          for (const [i, { day, title, text }] of days.entries()) {
            // Control characters are no text (3.3.11); a line end of any kind is one line end.
            const plain = (said: string): string =>
              said.replace(/\r\n|\r/g, '\n').replace(/[\u0000-\u0008\u000b-\u001f\u007f]/g, '');
            expect(unescaped(events[i]!.get('SUMMARY')!)).toBe(plain(title));
            expect(unescaped(events[i]!.get('DESCRIPTION') ?? '')).toBe(plain(text));
            expect(events[i]!.get('DTSTART;VALUE=DATE')).toBe(day.replaceAll('-', ''));
          }
        },
      ),
      { numRuns: 200 },
    );
  });
  it('ends a whole day where the next begins, over months and leap days', () => {
    const [a, b] = read(
      calendarFile(
        [
          { day: '2028-02-28', title: 'a', text: '' },
          { day: '2026-12-31', title: 'b', text: '' },
        ],
        'plan',
        0,
      ),
    );
    expect([a!.get('DTEND;VALUE=DATE'), b!.get('DTEND;VALUE=DATE')]).toEqual(['20280229', '20270101']);
    expect(a!.get('DTSTAMP')).toBe('19700101T000000Z');
  });
  it('escapes what the format itself uses, and never cuts a character of several octets', () => {
    const title = `Üben; Läufe, ${'é'.repeat(60)}\\end\nnext`;
    const file = calendarFile([{ day: '2026-12-01', title, text: '' }], 'plan', 0);
    expect(file).toContain('SUMMARY:Üben\\; Läufe\\, ');
    expect(unescaped(read(file)[0]!.get('SUMMARY')!)).toBe(title);
    expect(file).not.toContain('\uFFFD');
  });
  it('folds before a character of several octets that has no room, wherever in the line it comes', () => {
    for (let n = 0; n < 80; n++)
      for (const sign of ['é', '♯', '𝄞']) {
        const title = 'x'.repeat(n) + sign.repeat(60);
        const [event] = read(calendarFile([{ day: '2026-12-01', title, text: '' }], 'plan', 0));
        expect(event!.get('SUMMARY')).toBe(title);
      }
  });
  it('gives the same day of a plan the same UID, another day another', () => {
    const of = (day: string): string =>
      read(calendarFile([{ day, title: '', text: '' }], 'p1', 0))[0]!.get('UID')!;
    expect(of('2026-12-01')).toBe(of('2026-12-01'));
    expect(of('2026-12-01')).not.toBe(of('2026-12-02'));
  });
  it('refuses a day that is none', () => {
    expect(() => calendarFile([{ day: '2026-13-01', title: '', text: '' }], 'p', 0)).toThrow(
      /a day is written like 2026-11-28, got 2026-13-01/,
    );
  });
});
