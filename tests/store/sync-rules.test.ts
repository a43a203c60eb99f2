import 'fake-indexeddb/auto';
import Dexie from 'dexie';
import { describe, expect, it } from 'vitest';
import { makeDatabase } from '../../src/store/database.ts';
import type { VersionRow } from '../../src/store/rows.ts';
import { awayAfter, beforeOf, wins } from '../../src/store/sync/rules.ts';
import type { Coming } from '../../src/store/sync/rules.ts';

const coming = (change: Partial<Coming>): Coming => ({
  ...{
    at: 'attempts 1',
    table: 'attempts',
    key: '1',
    studentId: 'A',
    stamp: 5,
    item: 'm',
    row: {},
    moved: false,
  },
  ...change,
});
const here = (change: Partial<VersionRow>): VersionRow => ({
  ...{
    at: 'attempts 1',
    table: 'attempts',
    key: '1',
    studentId: 'A',
    stamp: 5,
    item: 'k',
    pending: 0,
    sent: true,
  },
  ...{ before: null, awayFrom: [], gone: 0 },
  ...change,
});

describe('which version of a row stands', () => {
  it.each([
    ['a later one', coming({ stamp: 6 }), here({}), true],
    ['an earlier one', coming({ stamp: 4 }), here({}), false],
    ['of two at once that of the higher id', coming({}), here({}), true],
    ['never the same once more', coming({ item: 'k' }), here({}), false],
    ['a deleted attempt, not a later move of it', coming({ stamp: 9 }), here({ gone: 1 }), false],
    ['a deletion, though older', coming({ stamp: 1, row: null }), here({}), true],
    ['a later name of a student', coming({ table: 'students', stamp: 9 }), here({ table: 'students' }), true],
    [
      'a note written anew after it was deleted',
      coming({ table: 'lessonNotes', stamp: 9 }),
      here({ gone: 1 }),
      true,
    ],
    ['word of a later move', coming({ stamp: 6, row: null, moved: true }), here({}), true],
    ['not word of an earlier move', coming({ stamp: 4, row: null, moved: true }), here({}), false],
    ['the row itself where only word of it was here', coming({ item: 'k' }), here({ gone: 2 }), true],
    ['not an older one than what went away', coming({ stamp: 4 }), here({ gone: 2 }), false],
  ])('%s', (_what, one, other, expected) => {
    expect(wins(one, other, null)).toBe(expected);
  });

  it('what hangs on an attempt stands where that stands, and is brought back with it', () => {
    const remark = (change: Partial<Coming>) => coming({ table: 'overrides', ...change });
    expect(wins(remark({ stamp: 9, row: null, moved: true }), here({}), 'A')).toBe(false);
    expect(wins(remark({ stamp: 9, row: null, moved: true }), here({}), 'B')).toBe(true);
    expect(wins(remark({ stamp: 1 }), here({ gone: 2 }), 'A')).toBe(true);
    expect(wins(remark({ stamp: 1 }), here({ gone: 2 }), null)).toBe(false);
    expect(wins(remark({ stamp: 9 }), here({ gone: 1 }), 'A')).toBe(false);
  });
});

describe('who is told that a row has gone elsewhere', () => {
  it('whoever has what the studio has of it', () => {
    expect(awayAfter(undefined, 'B')).toEqual([]);
    expect(awayAfter(here({}), 'A')).toEqual([]);
    expect(awayAfter(here({}), 'B')).toEqual([{ studentId: 'A', item: 'k' }]);
    // Not yet sent: the studio has the one before, or none.
    expect(awayAfter(here({ sent: false, before: 'j' }), 'B')).toEqual([{ studentId: 'A', item: 'j' }]);
    expect(awayAfter(here({ sent: false }), 'B')).toEqual([]);
    // Through two hands before anything was sent, and back to the first.
    const twice = here({ studentId: 'B', sent: false, awayFrom: [{ studentId: 'A', item: 'k' }] });
    expect(awayAfter(twice, 'C')).toEqual([{ studentId: 'A', item: 'k' }]);
    expect(awayAfter(twice, 'A')).toEqual([]);
    expect(beforeOf(twice, 'A')).toBe('k');
    // Whose it was is forgotten with a deleted student.
    expect(awayAfter(here({ studentId: '', gone: 2 }), 'B')).toEqual([]);
  });
});

it('takes over what a machine had still to tell', async () => {
  const old = new Dexie('before-ten');
  old.version(9).stores({ versions: 'at, studentId, pending' });
  const row = (at: string, change: object) => ({
    ...here({ at }),
    sent: undefined,
    awayFrom: undefined,
    ...change,
  });
  await old
    .table('versions')
    .bulkPut([
      row('sent', { pending: 0, movedFrom: null, before: null }),
      row('new', { pending: 1, movedFrom: null, before: null }),
      row('changed', { pending: 1, movedFrom: null, before: 'b' }),
      row('moved', { pending: 1, movedFrom: 'B', before: 'b' }),
    ]);
  old.close();
  const db = makeDatabase('before-ten');
  const found = Object.fromEntries((await db.versions.toArray()).map((one) => [one.at, one]));
  expect(found['sent']).toMatchObject({ sent: true, before: null, awayFrom: [] });
  expect(found['new']).toMatchObject({ sent: false, before: null, awayFrom: [] });
  expect(found['changed']).toMatchObject({ sent: false, before: 'b', awayFrom: [] });
  expect(found['moved']).toMatchObject({
    sent: false,
    before: null,
    awayFrom: [{ studentId: 'B', item: 'b' }],
  });
  expect(found['moved']).not.toHaveProperty('movedFrom');
  db.close();
});
