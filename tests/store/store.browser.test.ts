import Dexie from 'dexie';
import { afterEach, describe, expect, it } from 'vitest';
import { effectiveMark, openStore } from '../../src/store/index.ts';
import type { PracticeTest } from '../../src/music/score.ts';
import type { Store, StoreProblem } from '../../src/store/index.ts';
import { unpackBackup } from '../../src/store/backup/file.ts';
import { DIGEST_VERSION, ofNotes, practised } from '../../src/tests-engine/index.ts';
import { NO_CARD, NO_OUTCOMES, NO_WORDS } from '../../src/store/schema/migrations.ts';
import { sampleAttempt } from './support/sample.ts';

const open: Store[] = [];
let count = 0;
const freshName = () => `test-${Date.now()}-${count++}`;
async function fresh(name = freshName(), more: Partial<Parameters<typeof openStore>[0]> = {}) {
  const store = await openStore({ name, digest: practised, digestVersion: DIGEST_VERSION, ...more });
  open.push(store);
  return store;
}
afterEach(async () => {
  for (const store of open.splice(0)) store.close();
  for (const name of await Dexie.getDatabaseNames()) if (name.startsWith('test-')) await Dexie.delete(name);
});

describe('attempts', () => {
  it('are written with their digest and found again by another tab, to the letter', async () => {
    const name = freshName();
    const store = await fresh(name);
    const student = await store.students.add('B. K.', 'guitar');
    const given = sampleAttempt(student.id, 0);
    const written = await store.attempts.finish(null, given);
    const other = await fresh(name);
    expect(await other.attempts.get(written.id)).toEqual(written);
    expect(written).toMatchObject(given);
    expect(await other.attempts.digests(student.id)).toEqual([practised(written)]);
  });

  it('keep their order when the clock is set back a year, and time never makes two equal', async () => {
    let now = Date.UTC(2026, 5, 1);
    const store = await fresh(freshName(), { now: () => now });
    const { id } = await store.students.add('C', 'bass');
    const first = await store.attempts.finish(null, sampleAttempt(id, 1));
    now -= 365 * 86_400_000;
    const second = await store.attempts.finish(null, sampleAttempt(id, 2));
    const third = await store.attempts.finish(null, sampleAttempt(id, 3));
    expect(second.atMs).toBeLessThan(first.atMs);
    expect((await store.attempts.newest(id, 10)).map((a) => a.id)).toEqual([third.id, second.id, first.id]);
    expect((await store.attempts.digests(id)).map((d) => d.id)).toEqual([first.id, second.id, third.id]);
  });

  it('that failed once is tried again and is written, once', async () => {
    const store = await fresh();
    const student = await store.students.add('A', 'guitar');
    const { add } = IDBObjectStore.prototype;
    IDBObjectStore.prototype.add = () => {
      IDBObjectStore.prototype.add = add;
      throw new DOMException('no reason that anyone knows', 'OperationError');
    };
    const given = sampleAttempt(student.id, 1);
    await expect(store.attempts.finish(null, given)).rejects.toMatchObject({
      name: 'StoreProblem',
      code: 'failed',
    });
    expect(await store.attempts.newest(student.id, 5)).toEqual([]);
    await store.attempts.finish(null, given);
    expect(await store.attempts.newest(student.id, 5)).toHaveLength(1);
  });

  it('page through newest first without gap or repeat', async () => {
    const store = await fresh();
    const { id } = await store.students.add('D', 'guitar');
    for (let n = 0; n < 5; n++) await store.attempts.finish(null, sampleAttempt(id, n));
    const page1 = await store.attempts.newest(id, 2);
    const page2 = await store.attempts.newest(id, 2, page1[1]!.order);
    const page3 = await store.attempts.newest(id, 2, page2[1]!.order);
    const ids = [...page1, ...page2, ...page3].map((a) => a.id);
    expect(new Set(ids).size).toBe(5);
  });

  it('of a student who is not here are refused, and of a wrong shape, with nothing written', async () => {
    const store = await fresh();
    const { id } = await store.students.add('E', 'guitar');
    await expect(store.attempts.finish(null, sampleAttempt('f'.repeat(32), 0))).rejects.toMatchObject({
      code: 'missing',
    });
    const bad = { ...sampleAttempt(id, 0), zeroSec: NaN };
    await expect(store.attempts.finish(null, bad)).rejects.toThrow(/attempts record does not fit: zeroSec/);
    const unknown = { ...sampleAttempt(id, 0), colour: 'red' } as never;
    await expect(store.attempts.finish(null, unknown)).rejects.toThrow(TypeError);
    expect(await store.attempts.newest(id, 10)).toEqual([]);
  });
});

describe('drafts', () => {
  it('of a tab that is gone are lost takes; of an open tab they are not; a finished one is none', async () => {
    const name = freshName();
    const store = await fresh(name);
    const { id } = await store.students.add('F', 'guitar');
    const { test, manner } = sampleAttempt(id, 0);
    const begin = { studentId: id, homeworkId: null, test, manner };
    const finished = await store.attempts.begin(begin);
    await store.attempts.finish(finished.id, sampleAttempt(id, 0));
    const dropped = await store.attempts.begin(begin);
    const other = await fresh(name);
    expect(await other.attempts.lost()).toEqual([]);
    open.splice(open.indexOf(store), 1);
    store.close();
    await expect.poll(async () => (await other.attempts.lost()).map((d) => d.id)).toEqual([dropped.id]);
    await other.attempts.told(await other.attempts.lost());
    expect(await other.attempts.lost()).toEqual([]);
  });
});

describe('overrides', () => {
  it('count in mark and digest, keep the original, and the newest wins', async () => {
    const store = await fresh();
    const { id } = await store.students.add('G', 'guitar');
    const attempt = await store.attempts.finish(null, sampleAttempt(id, 1));
    const index = ofNotes(attempt.mark)!.verdicts.findIndex((v) => v.targetIndex === 0);
    const verdicts = [{ index, kind: 'early' as const }];
    await store.attempts.override({ attemptId: attempt.id, verdicts, mark: 20, remark: 'first look' });
    await store.attempts.override({ attemptId: attempt.id, verdicts, mark: 70, remark: 'second look' });
    expect((await store.attempts.get(attempt.id))!.mark).toEqual(attempt.mark);
    const overrides = await store.attempts.overridesOfAll([attempt.id]);
    const mark = effectiveMark(attempt, overrides.get(attempt.id)!);
    expect(mark).toMatchObject({ mark: 70, outcome: 'close', version: attempt.mark.version });
    expect(ofNotes(mark)!.verdicts[index]!.kind).toBe('early');
    const [digest] = await store.attempts.digests(id);
    expect(digest).toMatchObject({ mark: 70, outcome: 'close' });
    expect(digest!.time[0]! & 3).toBe(0);
    expect((await store.attempts.overridesOf(attempt.id)).map((o) => o.remark)).toEqual([
      'first look',
      'second look',
    ]);
  });

  it('beyond the verdicts there are, or over 100, are refused', async () => {
    const store = await fresh();
    const { id } = await store.students.add('H', 'guitar');
    const attempt = await store.attempts.finish(null, sampleAttempt(id, 1));
    const beyond = [{ index: 999, kind: 'right' as const }];
    const base = { attemptId: attempt.id, remark: '' };
    await expect(store.attempts.override({ ...base, verdicts: beyond, mark: null })).rejects.toThrow(
      /verdict index must be 0…/,
    );
    await expect(store.attempts.override({ ...base, verdicts: [], mark: 101 })).rejects.toThrow(TypeError);
    expect(await store.attempts.overridesOf(attempt.id)).toEqual([]);
  });
});

describe('a student', () => {
  it('is deleted wholly: attempts, remarks, notes, homework, sound, blind marks; others stay whole', async () => {
    const name = freshName();
    const store = await fresh(name);
    const fill = async (who: string) => {
      const { id } = await store.students.add(who, 'guitar');
      const attempt = await store.attempts.finish(null, sampleAttempt(id, 1));
      await store.attempts.override({ attemptId: attempt.id, verdicts: [], mark: 50, remark: 'hm' });
      await store.students.addNote(id, 'bring the capo');
      await store.students.setHomework({
        studentId: id,
        manner: 'strict',
        tests: [attempt.test as PracticeTest],
      });
      await store.students.addBlindMark(attempt.id, 'rt', 66);
      await store.audio.save(attempt.id, { mime: 'audio/webm', bytes: new Uint8Array(100) }, 1e6);
      await store.attempts.begin({ studentId: id, homeworkId: null, test: attempt.test, manner: 'strict' });
      return id;
    };
    const [gone, stays] = [await fill('I'), await fill('J')];
    const raw = await new Dexie(name).open();
    const rowsOf = async (id: string) => {
      const found: string[] = [];
      for (const table of raw.tables)
        for (const row of await table.toArray()) if (JSON.stringify(row).includes(id)) found.push(table.name);
      return found.sort();
    };
    const before = await rowsOf(stays);
    expect(await rowsOf(gone)).toEqual(before);
    expect(before.length).toBeGreaterThanOrEqual(10);
    await store.students.remove(gone);
    expect(await rowsOf(gone)).toEqual([]);
    expect(await rowsOf(stays)).toEqual(before);
    raw.close();
  });
});

describe('two tabs', () => {
  it('see each other’s attempts as they are written, and both write at once without loss', async () => {
    const name = freshName();
    const [one, two] = [await fresh(name), await fresh(name)];
    const { id } = await one.students.add('K', 'guitar');
    const seen: number[] = [];
    const stop = two.watch(
      () => two.attempts.digests(id),
      (all) => seen.push(all.length),
    );
    await Promise.all(
      [one, two].flatMap((tab, t) =>
        [0, 1, 2, 3].map((n) => tab.attempts.finish(null, sampleAttempt(id, t * 4 + n))),
      ),
    );
    await expect.poll(() => seen.at(-1)).toBe(8);
    stop();
    const orders = (await one.attempts.newest(id, 20)).map((a) => a.order);
    expect(new Set(orders).size).toBe(8);
  });

  it('of which one wants a newer version: the older lets go and says so', async () => {
    const name = freshName();
    const problems: StoreProblem[] = [];
    await fresh(name, { onProblem: (problem) => problems.push(problem) });
    const newer = new Dexie(name);
    newer.version(99).stores({ extra: 'id' });
    await newer.open();
    newer.close();
    expect(problems.map((p) => p.code)).toContain('closed');
  });

  it('of which one will not let go of an older version: the newer says "blocked"', async () => {
    const name = freshName();
    const stubborn = await new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open(name, 1);
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    stubborn.onversionchange = () => {};
    await expect(fresh(name)).rejects.toMatchObject({ name: 'StoreProblem', code: 'blocked' });
    stubborn.close();
    // "Close the other tabs of Twobar, then load this page again": once that one is closed it opens.
    const store = await fresh(name);
    expect(await store.students.all()).toEqual([]);
  });
});

describe('opening', () => {
  it('refuses a record of a newer app and leaves it as it was', async () => {
    const name = freshName();
    const newer = new Dexie(name);
    newer.version(98).stores({ students: 'id', marvel: 'id' });
    await newer.table('marvel').add({ id: 'x' });
    newer.close();
    await expect(fresh(name)).rejects.toMatchObject({ name: 'StoreProblem', code: 'newer-version' });
    const again = await new Dexie(name).open();
    expect(await again.table('marvel').count()).toBe(1);
    expect(again.verno).toBe(98);
    again.close();
  });

  it('says when the browser has removed a record that was here', async () => {
    const name = freshName();
    const store = await fresh(name);
    expect(store.evicted).toBe(false);
    await store.students.add('L', 'guitar');
    open.splice(0);
    store.close();
    const again = await fresh(name);
    expect(again.evicted).toBe(false);
    open.splice(0);
    again.close();
    await Dexie.delete(name);
    expect((await fresh(name)).evicted).toBe(true);
  });

  it('makes digests anew when their rule has changed', async () => {
    const name = freshName();
    const store = await fresh(name);
    const { id } = await store.students.add('M', 'guitar');
    const attempt = await store.attempts.finish(null, sampleAttempt(id, 0));
    await store.attempts.override({ attemptId: attempt.id, verdicts: [], mark: 12, remark: '' });
    const changed = await fresh(name, {
      digestVersion: DIGEST_VERSION + 1,
      digest: (facts) => ({ ...practised(facts), level: 9 }),
    });
    expect(await changed.attempts.digests(id)).toMatchObject([{ level: 9, mark: 12 }]);
  });
});

describe('what is derived from a student’s attempts', () => {
  it('is made once, and again when an attempt, an override or the rule comes new', async () => {
    const store = await fresh();
    const { id } = await store.students.add('O', 'guitar');
    let made = 0;
    const ask = (rule = 'a') => store.derived.recall(id, 'count', rule, async () => ++made);
    expect([await ask(), await ask()]).toEqual([1, 1]);
    expect(await store.derived.all('count', 'a')).toEqual(new Map([[id, 1]]));
    const attempt = await store.attempts.finish(null, sampleAttempt(id, 0));
    expect(await store.derived.all('count', 'a')).toEqual(new Map());
    expect([await ask(), await ask()]).toEqual([2, 2]);
    await store.attempts.override({ attemptId: attempt.id, verdicts: [], mark: 3, remark: '' });
    expect([await ask(), await ask('b'), await ask('b')]).toEqual([3, 4, 4]);
  });

  it('while an attempt was written is not taken for its successor’s', async () => {
    const store = await fresh();
    const { id } = await store.students.add('P', 'guitar');
    const count = async () => (await store.attempts.digests(id)).length;
    const slow = store.derived.recall(id, 'count', '', async () => {
      const seen = await count();
      await store.attempts.finish(null, sampleAttempt(id, 0));
      return seen;
    });
    expect(await slow).toBe(0);
    expect(await store.derived.recall(id, 'count', '', count)).toBe(1);
  });
});

describe('a database of version 1', () => {
  it('is brought to the present version with everything in it', async () => {
    const name = freshName();
    const old = new Dexie(name);
    old.version(1).stores({
      ...{ students: 'id', attempts: 'id, [studentId+order], order, homeworkId' },
      ...{ overrides: 'id, attemptId, studentId', lessonNotes: 'id, [studentId+atMs]' },
      ...{ homework: 'id, studentId', blindMarks: 'id, attemptId, studentId', settings: 'key' },
      ...{ drafts: 'id, studentId', digests: 'attemptId, [studentId+order], order, atMs' },
      ...{ audio: 'attemptId, studentId', audioSizes: 'attemptId, studentId, order' },
      ...{ conflicts: 'id, studentId', meta: 'key' },
    });
    await old.open();
    const id = '9'.repeat(32);
    const attempt = { ...sampleAttempt(id, 0), id: '8'.repeat(32), atMs: 5, order: 5 };
    const student = { id, name: 'V. O.', instrument: 'guitar', createdAtMs: 1 };
    await old.table('students').add(student);
    await old.table('attempts').add(attempt);
    await old.table('settings').add({ key: 'k', value: 1 });
    await old.table('conflicts').add({
      id: '7'.repeat(32),
      table: 'students',
      key: id,
      studentId: id,
      theirs: { ...student, name: 'W' },
    });
    old.close();
    const store = await fresh(name);
    expect(await store.students.all()).toEqual([{ ...student, ...NO_CARD, thresholds: null }]);
    const { records } = await unpackBackup(await store.backup.export());
    expect(records.attempts).toEqual([attempt]);
    expect(await store.attempts.get(attempt.id)).toEqual(attempt);
    expect(await store.attempts.digests(id)).toHaveLength(1);
    expect(await store.settings.get('k')).toBe(1);
    const [conflict] = await store.backup.conflicts();
    await store.backup.decide(conflict!, 'theirs');
    expect(await store.students.get(id)).toMatchObject({ name: 'W', thresholds: null });
  });
});

describe('a database of version 3', () => {
  it('gains cards and the words of homework, and tells still what no backup holds', async () => {
    const name = freshName();
    const old = new Dexie(name);
    old.version(3).stores({
      ...{ students: 'id', attempts: 'id, [studentId+order], order, homeworkId' },
      ...{ overrides: 'id, attemptId, studentId', lessonNotes: 'id, [studentId+atMs]' },
      ...{ homework: 'id, studentId', blindMarks: 'id, attemptId, studentId', settings: 'key' },
      ...{ drafts: 'id, studentId', digests: 'attemptId, [studentId+order], order, atMs' },
      ...{ audio: 'attemptId, studentId', audioSizes: 'attemptId, studentId, order' },
      ...{ conflicts: 'id, studentId', meta: 'key', derived: 'key, studentId, name' },
      ...{ blocks: 'id, studentId, schema', loose: 'attemptId, studentId' },
    });
    await old.open();
    const id = '9'.repeat(32);
    const student = { id, name: 'V. O.', instrument: 'bass', createdAtMs: 1, thresholds: null };
    const attempts = [5, 6, 7].map((order) => ({
      ...{ ...sampleAttempt(id, 0), id: String(order).repeat(32), atMs: order, order },
    }));
    const { test } = attempts[0]!;
    const homework = { id: '4'.repeat(32), studentId: id, createdAtMs: 2, manner: 'strict', tests: [test] };
    await old.table('students').add(student);
    await old.table('homework').add(homework);
    await old.table('attempts').bulkAdd(attempts);
    await old.table('digests').bulkAdd(
      attempts.map((attempt) => ({
        ...{ attemptId: attempt.id, studentId: id, order: attempt.order, atMs: attempt.atMs },
        digest: practised(attempt),
      })),
    );
    await old.table('meta').bulkAdd([
      { key: 'lastExportMs', value: 100 },
      { key: 'lastExportOrder', value: 5 },
      { key: 'digestVersion', value: DIGEST_VERSION },
      { key: 'bornMs', value: 1 },
    ]);
    old.close();
    const store = await fresh(name);
    expect(await store.students.all()).toEqual([{ ...student, ...NO_CARD }]);
    expect(await store.students.homework(id)).toEqual([{ ...homework, ...NO_WORDS, ...NO_OUTCOMES }]);
    expect(await store.backup.state()).toEqual({ lastExportMs: 100, attemptsSince: 2, firstSinceMs: 6 });
    await store.students.change(id, { examOn: '2027-06-14', lessonDay: 3, level: 4, manner: 'relaxed' });
    await expect(store.students.change(id, { examOn: '2027-02-30' })).rejects.toThrow(/examOn: no such day/);
    await expect(store.students.change(id, { level: 11 })).rejects.toThrow(/level/);
    expect((await unpackBackup(await store.backup.export())).records.students).toEqual([
      { ...student, ...NO_CARD, examOn: '2027-06-14', lessonDay: 3, level: 4, manner: 'relaxed' },
    ]);
  });
});

describe('saved sound', () => {
  it('stays under the limit by letting the oldest go, never an attempt', async () => {
    const store = await fresh();
    const { id } = await store.students.add('N', 'guitar');
    const ids: string[] = [];
    for (let n = 0; n < 4; n++) {
      const attempt = await store.attempts.finish(null, sampleAttempt(id, n));
      ids.push(attempt.id);
      const bytes = new Uint8Array(400).fill(n);
      await store.audio.save(attempt.id, { mime: 'audio/webm', bytes }, 1000);
    }
    expect(await store.audio.use()).toEqual({ takes: 2, bytes: 800 });
    expect(await store.audio.get(ids[0]!)).toBeNull();
    expect((await store.audio.get(ids[3]!))!.bytes).toEqual(new Uint8Array(400).fill(3));
    expect(await store.attempts.newest(id, 10)).toHaveLength(4);
    expect(await store.audio.save(ids[0]!, { mime: 'x', bytes: new Uint8Array(1001) }, 1000)).toBeNull();
    expect(await store.audio.shrink(0)).toBe(2);
    expect(await store.audio.use()).toEqual({ takes: 0, bytes: 0 });
  });
});
