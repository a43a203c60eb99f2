import Dexie from 'dexie';
import { afterEach, describe, expect, it } from 'vitest';
import { backupDue, openStore, packResults } from '../../src/store/index.ts';
import type { Attempt, KeptSitting, Store, Student } from '../../src/store/index.ts';
import { pack } from '../../src/store/backup/container.ts';
import type { Mark } from '../../src/tests-engine/index.ts';
import {
  defaultSetup,
  DIGEST_VERSION,
  practised,
  sit,
  standardTuning,
  startSitting,
} from '../../src/tests-engine/index.ts';
import { doubt } from '../../src/ui/record/doubt.ts';
import { markAgain } from '../../src/ui/record/remark.ts';
import { ID, packSample, sampleBackup } from './support/backup.ts';
import { sampleAttempt } from './support/sample.ts';

const DAY = 86_400_000;
const NOW = Date.UTC(2026, 10, 28);
const open: Store[] = [];
let count = 0;
async function fresh(more: Partial<Parameters<typeof openStore>[0]> = {}) {
  const name = `test-trust-${Date.now()}-${count++}`;
  const store = await openStore({ name, digest: practised, digestVersion: DIGEST_VERSION, doubt, ...more });
  open.push(store);
  return store;
}
afterEach(async () => {
  for (const store of open.splice(0)) store.close();
  for (const name of await Dexie.getDatabaseNames()) if (name.startsWith('test-')) await Dexie.delete(name);
});

/** An attempt of a homework as the student's app keeps it. */
function done(homeworkId: string, n: number, change: Partial<Attempt> = {}): Attempt {
  const attempt = {
    ...sampleAttempt(ID(0), n, homeworkId),
    id: ID(500 + n),
    atMs: NOW - DAY,
    order: NOW - DAY,
  };
  return JSON.parse(JSON.stringify({ ...attempt, mark: markAgain(attempt), ...change })) as Attempt;
}
/** A desk with one student and a homework of these tests. */
async function desk(ns: readonly number[], more: Parameters<typeof fresh>[0] = {}) {
  const store = await fresh({ now: () => NOW, ...more });
  const student = await store.students.add('A. B.', 'guitar');
  const tests = ns.map((n) => sampleAttempt(ID(0), n).test);
  const homework = await store.students.setHomework({ studentId: student.id, manner: 'strict', tests });
  return { store, student, homework };
}
const counted = async (store: Store, { id }: Student) =>
  (await store.attempts.digests(id)).map((one) => one.id);

describe('results of homework', () => {
  it('bring a whole sitting along: it and its takes are whose the homework is; of other stations it is none, and its mark is looked into', async () => {
    const store = await fresh({ now: () => NOW });
    const student = await store.students.add('A. B.', 'guitar');
    const setup = defaultSetup({
      ...{ level: 1, instrument: 'guitar', tuning: standardTuning('guitar').strings },
      ...{ id: ID(7), name: 'Mock' },
    });
    const homework = await store.students.setHomework({
      ...{ studentId: student.id, manner: 'strict', tests: [], sitting: setup },
    });
    const set = homework.sitting!;
    expect(set).toEqual({ ...setup, id: homework.id });
    /** Two takes of its scales, and all else left out. */
    function sat(id: string, attemptIds: readonly string[], own = set): KeptSitting {
      let run = startSitting(own, { id, seed: 4, atMs: NOW - DAY, examiner: false });
      for (let n = 0; n < 60 && run.phase !== 'over'; n++) run = sit(run, { type: 'pass' }, NOW - DAY + n);
      const stations = run.stations.map((station, at) =>
        own.stations[at]!.what === 'scales'
          ? {
              ...station,
              played: attemptIds.map((attemptId) => ({
                ...{ kind: 'melody' as const, attemptId, mark: 90, outcome: 'there' as const },
                ...{ right: null, own: null },
              })),
            }
          : station,
      );
      return { id, studentId: ID(0), atMs: NOW - DAY, run: { ...run, stations } };
    }
    // At home its takes are no homework's.
    const honest = { ...done(homework.id, 1), homeworkId: null };
    const nothing = done(homework.id, 2);
    const forged: Attempt = {
      ...{ ...nothing, homeworkId: null, take: { ...nothing.take, notes: [] } },
      mark: { ...(nothing.mark as Mark), mark: 100, outcome: 'there', range: null, verdicts: [] },
    };
    const stray = done(homework.id, 3);
    const all = [honest, forged, stray];
    const easier = { ...set, stations: set.stations.slice(1) };
    const results = await packResults(
      homework.id,
      all,
      [],
      [sat(ID(900), [honest.id, forged.id]), sat(ID(901), [], easier)],
    );
    expect((await store.results.add(results)).added).toMatchObject({ attempts: 3, sittings: 1 });
    expect(await counted(store, student)).toEqual([honest.id]);
    expect((await store.sittings.all(student.id)).map(({ id }) => id)).toEqual([ID(900)]);
    expect((await store.sittings.ofHomework(homework.id)).map(({ id }) => id)).toEqual([ID(900)]);
    // A second time nothing is added, and what the teacher wrote beside it stays.
    expect((await store.results.add(results)).added).toMatchObject({ attempts: 0, sittings: 0 });
    expect(await counted(store, student)).toEqual([honest.id]);
  });
  it('that are honest count; forged or never set they are shown and do not, until the teacher gives a mark', async () => {
    const { store, student, homework } = await desk([1, 2, 3]);
    const honest = done(homework.id, 1);
    const nothing = done(homework.id, 2);
    const forged: Attempt = {
      ...nothing,
      take: { ...nothing.take, notes: [] },
      mark: { ...(nothing.mark as Mark), mark: 100, outcome: 'there', range: null, verdicts: [] },
    };
    const other = done(homework.id, 4);
    const report = await store.results.add(await packResults(homework.id, [honest, forged, other]));
    expect(report).toMatchObject({ doubted: 2, conflicts: 0, added: { attempts: 3 } });
    expect(await store.attempts.newest(student.id, 9)).toHaveLength(3);
    expect(await counted(store, student)).toEqual([honest.id]);
    expect(await store.attempts.countOfHomework(homework.id)).toBe(1);
    const why = (one: Attempt) => store.attempts.get(one.id).then((row) => store.attempts.doubtOf(row!));
    expect([await why(honest), await why(forged), await why(other)]).toEqual([null, 'other-mark', 'not-set']);
    await store.attempts.override({ attemptId: forged.id, verdicts: [], mark: 12, remark: 'heard it' });
    expect((await counted(store, student)).toSorted()).toEqual([honest.id, forged.id].toSorted());
  });

  it('dated ahead do not stay the newest for good, and come back as the same', async () => {
    const { store, student, homework } = await desk([1, 2]);
    const ahead = [1, 2].map((n) =>
      done(homework.id, n, { atMs: NOW + 400 * DAY, order: NOW + 400 * DAY + n }),
    );
    const file = await packResults(homework.id, ahead);
    await store.results.add(file);
    expect(await store.results.add(file)).toMatchObject({ same: 2, conflicts: 0 });
    const orders = (await store.attempts.newest(student.id, 9)).map(({ id, order }) => [id, order]);
    expect(orders).toEqual([
      [ahead[1]!.id, NOW],
      [ahead[0]!.id, NOW - 1],
    ]);
    const own = await store.attempts.finish(null, sampleAttempt(student.id, 3));
    expect((await store.attempts.newest(student.id, 1))[0]!.id).toBe(own.id);
  });

  it('that reuse an id are said to differ, with both sides in view, and never change the student', async () => {
    const { store, student, homework } = await desk([1, 2]);
    const other = await store.students.add('C. D.', 'guitar');
    const mine = await store.attempts.finish(null, { ...done('', 1), studentId: other.id, homeworkId: null });
    const report = await store.results.add(
      await packResults(homework.id, [done(homework.id, 2, { id: mine.id })]),
    );
    expect(report).toMatchObject({ conflicts: 1, added: { attempts: 0 } });
    const [side] = await store.backup.bothSides();
    expect(side!.conflict).toMatchObject({ origin: 'results', studentId: other.id });
    expect(side!.ours).toMatchObject({ id: mine.id, studentId: other.id });
    await store.backup.decide(side!.conflict, 'theirs');
    expect(await store.attempts.get(mine.id)).toMatchObject({ studentId: other.id, homeworkId: homework.id });
    expect(await store.attempts.newest(student.id, 9)).toEqual([]);
  });
});

describe('the reminder of a backup', () => {
  it('counts results older than the newest attempt in the last file', async () => {
    const { store, student, homework } = await desk([0, 1, 2, 3, 4]);
    await store.attempts.finish(null, sampleAttempt(student.id, 9));
    await store.backup.export();
    await store.backup.exported();
    expect((await store.backup.state()).attemptsSince).toBe(0);
    const old = [0, 1, 2, 3, 4].map((n) =>
      done(homework.id, n, { atMs: NOW - 9 * DAY, order: NOW - 9 * DAY + n }),
    );
    await store.results.add(await packResults(homework.id, old));
    const state = await store.backup.state();
    expect(state.attemptsSince).toBe(5);
    expect(backupDue(state, NOW + DAY, null).due).toBe(true);
  });

  it('is not silenced by an attempt dated 400 days ahead', async () => {
    let now = NOW + 400 * DAY;
    const store = await fresh({ now: () => now });
    const { id } = await store.students.add('R', 'guitar');
    await store.attempts.finish(null, sampleAttempt(id, 0));
    await store.backup.export();
    await store.backup.exported();
    now = NOW;
    for (let n = 1; n <= 4; n++) await store.attempts.finish(null, sampleAttempt(id, n));
    const state = await store.backup.state();
    expect(state.attemptsSince).toBe(4);
    expect(backupDue(state, NOW + DAY, null).due).toBe(true);
  });

  it('does not count what came with a backup file', async () => {
    const store = await fresh();
    await store.backup.restore(await packSample(sampleBackup(3)));
    expect((await store.backup.state()).attemptsSince).toBe(0);
  });
});

describe('sound', () => {
  it('filed in a backup under another student than its attempt is refused', async () => {
    const store = await fresh();
    const sample = sampleBackup(2) as any;
    sample.json.records.students.push({ ...sample.json.records.students[0], id: ID(77), name: 'E. F.' });
    sample.json.audio[0].studentId = ID(77);
    await expect(
      store.backup.restore(await pack('backup', sample.json, sample.attachments)),
    ).rejects.toMatchObject({ code: 'invalid' });
  });

  it('stands where its attempt stands here, and goes with it and with its student', async () => {
    const store = await fresh();
    const sample = sampleBackup(2) as any;
    const quiet = structuredClone(sample);
    quiet.json.audio = [];
    // The same attempts under another student's id, without sound: what is here already keeps its owner.
    const moved = JSON.parse(JSON.stringify(quiet.json).replaceAll(ID(1), ID(77)));
    await store.backup.restore(await pack('backup', moved, []));
    await store.backup.restore(await packSample(sample));
    expect((await store.audio.get(ID(100)))?.studentId).toBe(ID(77));
    await store.students.remove(ID(77));
    expect(await store.audio.get(ID(100))).toBeNull();
    expect((await store.audio.use()).takes).toBe(0);
  });
});

describe('one attempt', () => {
  it('can be deleted with all that belongs to it, and is in no export afterwards', async () => {
    const store = await fresh();
    await store.backup.restore(await packSample(sampleBackup(24)));
    await store.attempts.remove(ID(100));
    expect(await store.attempts.get(ID(100))).toBeNull();
    expect(await store.attempts.overridesOf(ID(100))).toEqual([]);
    expect((await store.audio.use()).takes).toBe(0);
    expect((await store.attempts.digests(ID(1))).map(({ id }) => id)).not.toContain(ID(100));
    const again = await fresh();
    expect((await again.backup.restore(await store.backup.export())).added.attempts).toBe(23);
  });
});

describe('deleting', () => {
  it('a student leaves not even the id in the settings', async () => {
    const store = await fresh();
    const { id } = await store.students.add('G', 'guitar');
    await store.settings.set('student', id);
    await store.settings.set('other', { of: [id] });
    await store.settings.set('kept', 'yes');
    await store.students.remove(id);
    expect(await Promise.all(['student', 'other', 'kept'].map((key) => store.settings.get(key)))).toEqual([
      null,
      null,
      'yes',
    ]);
  });

  it('everything is not told as a removal by the browser at the next start', async () => {
    const store = await fresh();
    await store.students.add('H', 'guitar');
    await store.backup.deleteAll();
    store.close();
    const again = await fresh({ name: store.name });
    expect(again.evicted).toBe(false);
    expect(await again.students.all()).toEqual([]);
  });
});

describe('a record from before help was counted', () => {
  it('is brought up to date in place: help counted, what is in no backup known', async () => {
    const name = `test-old-${Date.now()}`;
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
    const { records } = sampleBackup(3).json as any as { records: any };
    const listed = records.attempts.map((one: Attempt) => ({ ...one, help: ['repeat', 'slower', 'repeat'] }));
    const cardless = records.students.map(({ id, name, instrument, createdAtMs, thresholds }: Student) => ({
      ...{ id, name, instrument, createdAtMs, thresholds },
    }));
    await old.table('students').bulkAdd(cardless);
    await old.table('attempts').bulkAdd(listed);
    await old
      .table('loose')
      .bulkAdd(listed.map(({ id: attemptId, studentId }: Attempt) => ({ attemptId, studentId })));
    await old.table('digests').bulkAdd(
      listed.map(({ id: attemptId, studentId, order, atMs }: Attempt) => ({
        attemptId,
        studentId,
        order,
        atMs,
      })),
    );
    const stray = {
      attemptId: ID(100),
      studentId: ID(66),
      order: 1,
      mime: 'audio/wav',
      bytes: new Uint8Array(4),
    };
    await old.table('audio').add(stray);
    await old.table('audioSizes').add({ ...stray, bytes: 4 });
    await old.table('meta').bulkAdd([
      { key: 'bornMs', value: 1 },
      { key: 'lastExportOrder', value: 1e12 },
    ]);
    old.close();
    const store = await fresh({ name });
    expect((await store.attempts.get(ID(101)))!.help).toEqual({ repeat: 2, slower: 1 });
    expect((await store.backup.state()).attemptsSince).toBe(2);
    expect((await store.audio.get(ID(100)))!.studentId).toBe(ID(1));
    const again = await fresh();
    expect((await again.backup.restore(await store.backup.export())).added.attempts).toBe(3);
  });
});
