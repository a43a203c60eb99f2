import { afterEach, describe, expect, it } from 'vitest';
import {
  defaultSetup,
  planUnits,
  standardTuning,
  type PlanItem,
  type Practised,
} from '../../src/tests-engine/index.ts';
import { speak } from '../../src/ui/messages.ts';
import { aboveAll } from '../../src/ui/sitting/aboveAll.ts';
import {
  dayAhead,
  dayGroups,
  daysAhead,
  estimateText,
  planCalendar,
  planNow,
  readHours,
  unitName,
  USUAL_HOURS,
} from '../../src/ui/sitting/plan.ts';

afterEach(() => speak('en'));
const setup = defaultSetup({
  ...{ level: 2, instrument: 'guitar', tuning: standardTuning('guitar').strings },
  ...{ id: '0'.repeat(32), name: 'Mock' },
});

describe('the plan in words', () => {
  it('counts days by the calendar, over the change of the clocks and the end of a year', () => {
    expect(daysAhead('2027-01-01', new Date(2026, 11, 30, 23, 59))).toBe(2);
    expect(daysAhead('2026-03-30', new Date(2026, 2, 28, 0, 1))).toBe(2);
    expect(dayAhead(2, new Date(2026, 2, 28, 12))).toBe('2026-03-30');
    expect(daysAhead('2026-03-27', new Date(2026, 2, 28))).toBe(-1);
  });
  it('tells an estimate with its range in whole tenths, and what is not known', () => {
    expect(estimateText({ is: 'known', chance: 0.68, low: 0.44, high: 0.83, takes: 9 })).toBe(
      'about 7 of 10 would come out at “Got it” (4 to 9)',
    );
    expect(estimateText({ is: 'unknown', more: 3 })).toMatch(/^too little known: .*3 more times/);
    expect(estimateText({ is: 'unmarked' })).toMatch(/told and not marked/);
  });
  it('takes the usual hours where what was kept does not fit', () => {
    expect(readHours({ weekdays: [0, 2], minutes: 45 })).toEqual({ weekdays: [0, 2], minutes: 45 });
    for (const bad of [null, {}, { weekdays: [7], minutes: 30 }, { weekdays: [], minutes: 1 }])
      expect(readHours(bad)).toEqual(USUAL_HOURS);
  });
  it('keeps today’s list while today is played: it is ticked and does not change', () => {
    const now = new Date(2027, 0, 4, 18);
    const asked = { setup, sittings: [], examOn: '2027-02-01', hours: USUAL_HOURS, there: 85, now };
    const before = planNow({ ...asked, digests: [] });
    const [first] = before.days[0]!.items;
    const kinds = {
      scales: 'scale',
      chords: 'chords',
      reading: 'reading',
      improvising: 'improvising',
    } as const;
    const kind = kinds[first!.unit.what as keyof typeof kinds] ?? (first!.unit.what as 'melody');
    const after = planNow({
      ...asked,
      digests: [
        {
          ...{ id: 'a', atMs: now.getTime() - 3_600_000, order: 1, kind, level: 2, manner: 'strict' },
          ...{ mark: 80, outcome: 'close', biasMs: null, unevennessMs: null, pitch: [], time: [] },
        },
      ],
    });
    expect(after.days).toEqual(before.days);
    expect(after.playedToday.has(first!.unit.what)).toBe(true);
    expect(before.playedToday.size).toBe(0);
  });
  it('names what of a station to take first: scales that are due, chords and notes that go wrong, nothing where nothing is known', () => {
    const nowMs = Date.UTC(2027, 0, 4);
    const unit = (what: string) => planUnits(setup).find((one) => one.what === what)!;
    const base = { id: 'a', order: 1, level: 2, manner: 'strict', mark: 80, outcome: 'close' } as const;
    const rest = { biasMs: null, unevennessMs: null, pitch: [], time: [] };
    // Never asked scales first: the first two of the list.
    expect(aboveAll(setup, unit('scales'), [], nowMs)).toHaveLength(2);
    expect(aboveAll(setup, unit('chords'), [], nowMs)).toEqual([]);
    const said = (symbol: string, right: boolean) => ({
      symbol,
      shape: null,
      right,
      from: null,
      inTime: null,
    });
    const chords = [false, false, false, false].map((right, i): Practised => ({
      ...{ ...base, ...rest, order: i, kind: 'chords', atMs: nowMs - 1e7 },
      chords: [said('F', right), said('C', true), said('G', true), said('Am', true)],
    }));
    expect(aboveAll(setup, unit('chords'), chords, nowMs)[0]).toBe('F');
    const page: Practised = {
      ...{ ...base, ...rest, kind: 'reading', atMs: nowMs - 1e7, shows: 'staff' },
      written: [
        ['read-natural', 20, 20],
        ['read-accidental', 2, 20],
      ],
    };
    expect(aboveAll(setup, unit('reading'), [page], nowMs)).toHaveLength(1);
    // Takes with help say nothing of an exam.
    expect(aboveAll(setup, unit('reading'), [{ ...page, manner: 'relaxed' }], nowMs)).toEqual([]);
  });
  it('tells a day to come in a line for each length, the longest first, the names as they are played', () => {
    const unit = (what: string) => planUnits(setup).find((one) => one.what === what)!;
    const item = (what: string, minutes: number): PlanItem => ({ unit: unit(what), minutes, why: 'keep' });
    const items = [item('scales', 3), item('chords', 6), item('rhythm', 9), item('melody', 3)];
    expect(dayGroups({ ahead: 1, mockMinutes: 19, items })).toEqual([
      'The whole sitting once, 19 min',
      '9 min: Rhythm by ear',
      '6 min: Chords',
      '3 min each: Scales and arpeggios, Melody by ear',
    ]);
    expect(dayGroups({ ahead: 1, mockMinutes: null, items: [] })).toEqual([]);
  });
  it('gives a calendar with a day for each list, and the exam', () => {
    const now = new Date(2027, 0, 4, 9);
    const { days } = planNow({
      ...{ setup, digests: [], sittings: [], examOn: '2027-01-15', hours: USUAL_HOURS, there: 85, now },
    });
    const file = planCalendar(days, '2027-01-15', setup, now);
    expect(file.match(/BEGIN:VEVENT/g)).toHaveLength(days.length + 1);
    expect(file).toContain('DTSTART;VALUE=DATE:20270115\r\n');
    // Seven names are no title: what the day gives most minutes to, and all of it in the text.
    const [, first] = file.replaceAll('\r\n ', '').split('BEGIN:VEVENT');
    expect(days[0]!.items.length).toBeGreaterThan(5);
    const longest = days[0]!.items.filter(({ minutes }) => minutes > 5).map(({ unit }) => unitName(unit));
    expect(first).toContain(`SUMMARY:Practice: above all ${longest.join('\\, ')}\r\n`);
    for (const { unit } of days[0]!.items) expect(first).toContain(`${unitName(unit)}\\, `);
    expect(planUnits(setup).length).toBeGreaterThan(4);
  });
});
