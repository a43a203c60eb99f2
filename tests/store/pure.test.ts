import { describe, expect, it } from 'vitest';
import { backupDue, backupName } from '../../src/store/index.ts';
import { attemptsCsv, blindMarksCsv } from '../../src/store/csv.ts';
import type { Attempt, Records } from '../../src/store/index.ts';
import { canonical, contentId } from '../../src/store/canonical.ts';
import { newestOverride } from '../../src/store/effective.ts';
import { nextOrder } from '../../src/store/order.ts';
import { toStoreProblem } from '../../src/store/problem.ts';
import { checkOwn } from '../../src/store/schema/index.ts';
import { migrate, SCHEMA_VERSION } from '../../src/store/schema/migrations.ts';
import { markTask, ofNotes } from '../../src/tests-engine/index.ts';
import { sec } from '../../src/music/units.ts';
import { NO_CARD } from '../../src/store/schema/migrations.ts';
import { sampleAttempt } from './support/sample.ts';

const DAY = 86_400_000;
const ID = (c: string) => c.repeat(32);

describe('the order of attempts', () => {
  it('follows the clock, and steps on by one where the clock stands or was set back', () => {
    expect(nextOrder(0, 5000.7)).toBe(5000);
    expect(nextOrder(5000, 5000)).toBe(5001);
    expect(nextOrder(5001, -9e9)).toBe(5002);
  });
  it('refuses what is no order and no time', () => {
    expect(() => nextOrder(-1, 0)).toThrow(new RangeError('lastOrder must be a whole number >= 0, got -1'));
    expect(() => nextOrder(0, NaN)).toThrow(RangeError);
  });
});

describe('the reminder of a backup', () => {
  const state = { lastExportMs: null, attemptsSince: 3, firstSinceMs: 10 * DAY };
  it('is due when an attempt is a day old and in no export, not before, and once a day', () => {
    expect(backupDue(state, 11 * DAY - 1, null).due).toBe(false);
    expect(backupDue(state, 11 * DAY, null)).toEqual({ due: true, ageDays: null, attemptsSince: 3 });
    expect(backupDue(state, 11 * DAY, 10.5 * DAY).due).toBe(false);
    expect(backupDue(state, 12 * DAY, 10.5 * DAY).due).toBe(true);
    expect(backupDue({ ...state, attemptsSince: 0, firstSinceMs: null }, 99 * DAY, null).due).toBe(false);
  });
  it('gives no negative age when the clock was set back', () => {
    expect(backupDue({ ...state, lastExportMs: 20 * DAY }, 11 * DAY, null).ageDays).toBe(0);
    expect(backupDue({ ...state, lastExportMs: 2 * DAY }, 11 * DAY, null).ageDays).toBe(9);
  });
  it('names the file by its date', () => {
    expect(backupName(new Date(2026, 0, 9, 23, 59))).toBe('twobar-2026-01-09.twobar');
  });
});

describe('migrations', () => {
  const steps = {
    1: (r: any) => ({ ...r, two: true }),
    2: (r: any) => ({ ...r, three: r.two }),
  };
  it('lead from every earlier version to the present, step by step', () => {
    expect(migrate({ a: 1 }, 1, 3, steps)).toEqual({ a: 1, two: true, three: true });
    expect(migrate({ a: 1, two: false }, 2, 3, steps)).toEqual({ a: 1, two: false, three: false });
    expect(migrate({ a: 1 }, 3, 3, steps)).toEqual({ a: 1 });
  });
  it('refuse a version of the future and one that never was', () => {
    expect(() => migrate({}, SCHEMA_VERSION + 1)).toThrow(/this app knows/);
    for (const never of [0, -1, 1.5, NaN]) expect(() => migrate({}, never)).toThrow(/no schema version/);
  });
  it('say which step is missing', () => {
    expect(() => migrate({}, 1, 3, { 2: steps[2] })).toThrow(
      new RangeError('no migration step from version 1'),
    );
  });
});

describe('errors of the database', () => {
  it.each([
    [new DOMException('x', 'QuotaExceededError'), 'quota'],
    [{ name: 'AbortError', inner: { name: 'QuotaExceededError' } }, 'quota'],
    [{ name: 'BulkError', failures: [new DOMException('x', 'QuotaExceededError')] }, 'quota'],
    [{ name: 'OpenFailedError', inner: { name: 'UnknownError' } }, 'unavailable'],
    // The words of Chromium 156 on a disk without a free byte.
    [
      new DOMException('Connection is closing because of: IO error: FILE_ERROR_NO_SPACE', 'UnknownError'),
      'disk',
    ],
    [
      {
        name: 'DatabaseClosedError',
        inner: new DOMException('Internal error opening backing store for indexedDB.open.', 'UnknownError'),
      },
      'disk',
    ],
    [{ name: 'DatabaseClosedError' }, 'closed'],
    [{ name: 'VersionError' }, 'newer-version'],
    [new Error('odd'), 'failed'],
    ['text', 'failed'],
    [null, 'failed'],
  ])('%o are told as %s', (error, code) => {
    expect(toStoreProblem(error).code).toBe(code);
  });
});

describe('contents', () => {
  it('have one text and one id whatever the order of their keys', async () => {
    expect(canonical({ b: [{ d: 1, c: 2 }], a: null })).toBe('{"a":null,"b":[{"c":2,"d":1}]}');
    expect(await contentId({ a: 1, b: 2 })).toBe(await contentId({ b: 2, a: 1 }));
    expect(await contentId({ a: 1, b: 2 })).not.toBe(await contentId({ a: 1, b: 3 }));
    // SHA-256 of "abc", FIPS 180-4 example B.1, over its JSON text `"abc"` computed with sha256sum.
    expect(await contentId('abc')).toBe('6cc43f858fbb763301637b5af970e2a4');
  });
});

const attempt = (n: number): Attempt => ({
  ...sampleAttempt(ID('a'), n),
  id: String(n).padStart(32, '0'),
  atMs: Date.UTC(2026, 10, 1 + n),
  order: n,
});
const records = (given: Partial<Records>): Records => ({
  students: [
    {
      ...{ id: ID('a'), name: '=SUM(A1), "Bo"', instrument: 'guitar', createdAtMs: 0, thresholds: null },
      ...NO_CARD,
    },
  ],
  attempts: [],
  overrides: [],
  lessonNotes: [],
  homework: [],
  blindMarks: [],
  sittings: [],
  settings: [],
  ...given,
});
const override = (order: number, id: string, mark: number | null) => ({
  ...{ id: ID(id), attemptId: attempt(1).id, studentId: ID('a'), atMs: 0, order },
  ...{ verdicts: [], mark, remark: 'two\nlines' },
});

describe('the table of attempts', () => {
  it('quotes by RFC 4180, runs no formula, and gives the mark that counts beside the machine’s', () => {
    const csv = attemptsCsv(
      records({ attempts: [attempt(2), attempt(1)], overrides: [override(5, 'b', 12)] }),
    );
    expect(csv.startsWith('\uFEFFattempt,student,')).toBe(true);
    const [head, first] = csv.slice(1).split('\r\n');
    expect(first).toContain(`,"'=SUM(A1), ""Bo""",2026-11-02T00:00:00.000Z,rhythm,2,`);
    const columns = head!.split(',');
    const after = first!.replace(/"[^"]*(""[^"]*)*"/g, 'q').split(',');
    expect(after[columns.indexOf('mark')]).toBe('12');
    expect(after[columns.indexOf('outcome')]).toBe('not-yet');
    expect(Number(after[columns.indexOf('machine_mark')])).toBe(attempt(1).mark.mark);
    expect(csv).toContain('"two\nlines"');
    expect(csv.split('\r\n')).toHaveLength(4);
  });
  it('of blind marks has the machine’s mark and no name', () => {
    const blind = {
      id: ID('d'),
      attemptId: attempt(1).id,
      studentId: ID('a'),
      rater: 'kt',
      value: 70,
      atMs: 0,
    };
    const csv = blindMarksCsv(records({ attempts: [attempt(1)], blindMarks: [blind] }));
    expect(csv).toContain(`${attempt(1).id},kt,70,1970-01-01T00:00:00.000Z,${attempt(1).mark.mark},`);
    expect(csv).not.toContain('Bo');
  });
});

describe('the newest override', () => {
  it('is the same whatever order they come in, ties included', () => {
    const [a, b, c] = [override(1, 'e', 1), override(9, 'c', 2), override(9, 'd', 3)];
    for (const list of [
      [a, b, c],
      [c, b, a],
      [b, c, a],
    ])
      expect(newestOverride(list)).toBe(c);
    expect(newestOverride([])).toBeNull();
  });
});

describe('whatever the marker gives', () => {
  it('can be kept: sixty simulated takes with all kinds of mistakes, half of them a quarter second late from the middle on', () => {
    const keys = new Set<string>();
    for (let n = 0; n < 60; n++) {
      const { test, take: even } = attempt(n);
      const notes = even.notes.map((note, i) =>
        n % 2 && i >= even.notes.length / 2 ? { ...note, onsetSec: sec(note.onsetSec + 0.25) } : note,
      );
      const take = { ...even, notes };
      const mark = markTask(test, take, { latencyUncertaintyMs: 6 });
      const kept = checkOwn('attempts', { ...attempt(n), take, mark }) as Attempt;
      expect(kept.mark).toEqual(JSON.parse(JSON.stringify(mark)));
      ofNotes(kept.mark)!.verdicts.forEach((verdict) => Object.keys(verdict).forEach((key) => keys.add(key)));
    }
    expect([...keys]).toContain('inStep');
  });
});
