import { randomId } from '../../src/store/ids.ts';
import Dexie from 'dexie';
import { afterEach, describe, expect, it, vi } from 'vitest';
import {
  homeworkFragment,
  openStore,
  packResults,
  readHomework,
  resultsFragment,
} from '../../src/store/index.ts';
import type { PracticeTest } from '../../src/music/score.ts';
import type { Store } from '../../src/store/index.ts';
import { pack, unpack } from '../../src/store/backup/container.ts';
import { unpackBackup } from '../../src/store/backup/file.ts';
import { packLoose, undoBlocksOf } from '../../src/store/blocks.ts';
import { makeDatabase } from '../../src/store/database.ts';
import type { Database } from '../../src/store/database.ts';
import { touch } from '../../src/store/derived.ts';
import { codeInFigures, toBase64Url, wholeCode } from '../../src/exchange/index.ts';
import { SCHEMA_VERSION } from '../../src/store/schema/migrations.ts';
import { ID, packBackup, sampleSitting } from './support/backup.ts';
import { DIGEST_VERSION, practised } from '../../src/tests-engine/index.ts';
import { HOMEWORK_2 } from './fixtures/homework-2.ts';
import { sampleAttempt } from './support/sample.ts';

const open: Store[] = [];
let count = 0;
async function fresh(): Promise<Store> {
  const name = `test-backup-${Date.now()}-${count++}`;
  const store = await openStore({ name, digest: practised, digestVersion: DIGEST_VERSION });
  open.push(store);
  return store;
}
afterEach(async () => {
  for (const store of open.splice(0)) store.close();
  for (const name of await Dexie.getDatabaseNames()) if (name.startsWith('test-')) await Dexie.delete(name);
});

/** Everything there is, as one comparable value. */
const all = async (store: Store) => {
  const { records, audio } = await unpackBackup(await store.backup.export());
  return { records, audio, digests: await digestsOf(store) };
};
const digestsOf = async (store: Store) =>
  Object.fromEntries(
    await Promise.all(
      (await store.students.all()).map(async ({ id }) => [id, await store.attempts.digests(id)]),
    ),
  );

async function filled(): Promise<Store> {
  const store = await fresh();
  for (const who of ['Ö. Ł. 吉他', 'B']) {
    const { id } = await store.students.add(who, 'guitar');
    for (let n = 0; n < 4; n++) {
      const attempt = await store.attempts.finish(null, sampleAttempt(id, n));
      if (n === 1)
        await store.attempts.override({
          attemptId: attempt.id,
          verdicts: [],
          mark: 61,
          remark: 'better: “go on”',
        });
      if (n === 2) {
        const bytes = Uint8Array.from({ length: 300 }, (_, i) => (i * 7) % 256);
        await store.audio.save(attempt.id, { mime: 'audio/webm;codecs=opus', bytes }, 1e6);
      }
      if (n === 3) await store.students.addBlindMark(attempt.id, 'kt', 72.5);
    }
    await store.students.addNote(id, 'slow practice\nof bar 2');
    await store.students.setHomework({ studentId: id, manner: 'strict', tests: [sampleAttempt(id, 1).test] });
  }
  const [first] = await store.students.all();
  await store.sittings.put(first!.id, sampleSitting(randomId(), ID(100)));
  await store.settings.set('teaching', { thresholds: { there: 85, close: 60 }, language: 'en' });
  return store;
}

describe('a backup', () => {
  it('restored into an empty browser gives the same records, sound and digests, to the byte', async () => {
    const store = await filled();
    const file = await store.backup.export();
    const other = await fresh();
    const report = await other.backup.restore(file);
    expect(await all(other)).toEqual(await all(store));
    expect(report).toMatchObject({ same: 0, conflicts: 0, settingsKept: 0, audioAdded: 2 });
    expect(report.added).toEqual({
      students: 2,
      attempts: 8,
      overrides: 2,
      lessonNotes: 2,
      homework: 2,
      blindMarks: 2,
      settings: 1,
      sittings: 1,
    });
  });

  it('read and packed some rows at a time is the file that is packed in one piece, to the byte', async () => {
    const store = await filled();
    const { id } = (await store.students.all())[0]!;
    // More than one chunk of rows, and none at all in `settings` but one.
    for (let n = 0; n < 510; n++) await store.students.addNote(id, `note ${n}`);
    const file = await store.backup.export();
    expect(file).toEqual(await packBackup(await unpackBackup(file)));
    expect((await unpackBackup(file)).records.lessonNotes).toHaveLength(512);
  });

  it('of a database that cannot be opened says so instead of hanging', async () => {
    const store = await fresh();
    const native = window.Worker;
    window.Worker = class extends native {
      constructor() {
        super(URL.createObjectURL(new Blob(['throw new Error("no")'], { type: 'text/javascript' })));
      }
    };
    try {
      await expect(store.backup.export()).rejects.toMatchObject({ name: 'StoreProblem', code: 'failed' });
    } finally {
      window.Worker = native;
    }
  });

  it('restored twice changes nothing the second time', async () => {
    const store = await filled();
    const file = await store.backup.export();
    const before = await all(store);
    const report = await store.backup.restore(file);
    expect(report).toMatchObject({ conflicts: 0, settingsKept: 0, audioAdded: 0, same: 20 });
    expect(await all(store)).toEqual(before);
  });

  it('of two machines merge to the same record in either order', async () => {
    const [one, two] = [await filled(), await filled()];
    const [fileOne, fileTwo] = [await one.backup.export(), await two.backup.export()];
    const [ab, ba] = [await fresh(), await fresh()];
    await ab.backup.restore(fileOne);
    await ab.backup.restore(fileTwo);
    await ba.backup.restore(fileTwo);
    await ba.backup.restore(fileOne);
    expect(await all(ab)).toEqual(await all(ba));
    expect((await ab.students.all()).length).toBe(4);
  });

  it('with a record that differs keeps both, once, and waits for a decision', async () => {
    const store = await filled();
    const file = await store.backup.export();
    const [student] = await store.students.all();
    await store.students.change(student!.id, { name: 'New Name' });
    expect((await store.backup.restore(file)).conflicts).toBe(1);
    expect((await store.backup.restore(file)).conflicts).toBe(1);
    const conflicts = await store.backup.conflicts();
    expect(conflicts).toHaveLength(1);
    expect((await store.students.get(student!.id))!.name).toBe('New Name');
    await store.backup.decide(conflicts[0]!, 'theirs');
    expect((await store.students.get(student!.id))!.name).toBe(student!.name);
    expect(await store.backup.conflicts()).toEqual([]);
  });

  it('with settings that differ leaves this machine’s', async () => {
    const store = await filled();
    const file = await store.backup.export();
    await store.settings.set('teaching', { language: 'fi' });
    expect((await store.backup.restore(file)).settingsKept).toBe(1);
    expect(await store.settings.get('teaching')).toEqual({ language: 'fi' });
  });

  it('that fails half way through writing changes nothing', async () => {
    const store = await filled();
    const file = await store.backup.export();
    const other = await fresh();
    const add = IDBObjectStore.prototype.add;
    let left = 12;
    IDBObjectStore.prototype.add = function (this: IDBObjectStore, ...args: Parameters<typeof add>) {
      if (left-- === 0) throw new DOMException('no space', 'QuotaExceededError');
      return add.apply(this, args);
    };
    const before = await all(other);
    try {
      await expect(other.backup.restore(file)).rejects.toMatchObject({ name: 'StoreProblem', code: 'quota' });
    } finally {
      IDBObjectStore.prototype.add = add;
    }
    expect(left).toBeLessThan(0);
    expect(await all(other)).toEqual(before);
  });

  it('with an order from a broken clock does not carry this machine’s order away', async () => {
    const store = await fresh();
    const { id } = await store.students.add('Z', 'guitar');
    const attempt = await store.attempts.finish(null, sampleAttempt(id, 0));
    const { records } = await unpackBackup(await store.backup.export());
    const wild = { ...attempt, id: 'a'.repeat(32), order: Date.UTC(2099, 0) };
    const json = {
      schema: SCHEMA_VERSION,
      exportedAtMs: 0,
      records: { ...records, attempts: [wild] },
      audio: [],
    };
    await store.backup.restore(await pack('backup', json));
    const next = await store.attempts.finish(null, sampleAttempt(id, 1));
    expect(next.order).toBeLessThan(Date.now() + 1000);
  });
});

/** Blocks of a record and what is in none, read beside the store, once there are `count` blocks. */
async function packed(store: Store, count: number) {
  const raw = await new Dexie(store.name).open();
  const read = async () => ({
    blocks: await raw.table('blocks').toArray(),
    loose: await raw.table('loose').toCollection().primaryKeys(),
    attempts: await raw.table('attempts').toCollection().primaryKeys(),
  });
  await expect.poll(async () => (await read()).blocks.length, { timeout: 10_000 }).toBe(count);
  const found = await read();
  raw.close();
  return found;
}

describe('attempts packed for taking out', () => {
  const many = async (count: number) => {
    const store = await fresh();
    const { id } = await store.students.add('M. N.', 'guitar');
    for (let n = 0; n < count; n++) await store.attempts.finish(null, sampleAttempt(id, n));
    return { store, id };
  };

  it('are in a block or loose, each once, and come out the same, restored, and as a table', async () => {
    const { store, id } = await many(23);
    const loose = await store.students.add('O. P.', 'guitar');
    await store.attempts.finish(null, sampleAttempt(loose.id, 3));
    const table = await store.backup.export('attempts-csv');
    const { blocks, loose: left, attempts } = await packed(store, 1);
    expect([...blocks.flatMap(({ attemptIds }) => attemptIds), ...left].sort()).toEqual(attempts);
    expect(blocks[0].attemptIds.length).toBeGreaterThanOrEqual(20);
    const { records } = await unpackBackup(await store.backup.export());
    const written = [...(await store.attempts.newest(id, 99)), ...(await store.attempts.newest(loose.id, 9))];
    expect(records.attempts).toHaveLength(24);
    expect(new Map(records.attempts.map((one) => [one.id, one]))).toEqual(
      new Map(written.map((one) => [one.id, one])),
    );
    const other = await fresh();
    await other.backup.restore(await store.backup.export());
    expect(await other.backup.export('attempts-csv')).toEqual(table);
    await packed(other, 1);
    expect((await all(other)).digests).toEqual((await all(store)).digests);
  });

  it('leave with their student, and with them every packed byte', async () => {
    const { store, id } = await many(20);
    await packed(store, 1);
    await store.students.remove(id);
    expect(await packed(store, 0)).toEqual({ blocks: [], loose: [], attempts: [] });
  });

  it('come out as replaced by a decision, not as packed before it', async () => {
    const { store, id } = await many(20);
    await packed(store, 1);
    const theirs = { ...(await store.attempts.newest(id, 1))[0]!, listenerVersion: 77 };
    const { records } = await unpackBackup(await store.backup.export());
    const attempts = records.attempts.map((one) => (one.id === theirs.id ? theirs : one));
    await store.backup.restore(
      await packBackup({ exportedAtMs: 0, records: { ...records, attempts }, audio: [] }),
    );
    const [conflict] = await store.backup.conflicts();
    await store.backup.decide(conflict!, 'theirs');
    const after = await unpackBackup(await store.backup.export());
    expect(after.records.attempts.find((one) => one.id === theirs.id)).toEqual(theirs);
    expect(after.records.attempts).toHaveLength(20);
  });

  it.each([
    [
      'an attempt was replaced',
      async (db: Database, id: string) => {
        const one = (await db.attempts.where({ id }).first())!;
        await db.transaction('rw', [db.attempts, db.blocks, db.loose, db.derived], async () => {
          await db.attempts.put({ ...one, listenerVersion: 77 });
          await undoBlocksOf(db, one.studentId);
          await touch({ db }, [one.studentId]);
        });
      },
      { blocks: 0, loose: 20 },
    ],
    ['another tab packed them', (db: Database) => packLoose(db), { blocks: 1, loose: 0 }],
    [
      'their student was deleted',
      async (_: Database, __: string, remove: () => Promise<void>) => remove(),
      { blocks: 0, loose: 0 },
    ],
  ])('are not packed as they were where meanwhile %s', async (_, meanwhile, left) => {
    const { store, id } = await many(20);
    const { attempts } = await packed(store, 1);
    const db = makeDatabase(store.name);
    try {
      await db.transaction('rw', [db.blocks, db.loose], () => undoBlocksOf(db, id));
      // Between reading and writing lies the packing: its last byte waits until the other's work is done.
      let waits = true;
      const Real = CompressionStream;
      vi.stubGlobal(
        'CompressionStream',
        class {
          constructor(format: CompressionFormat) {
            const { writable, readable } = new Real(format);
            if (!waits) return { writable, readable };
            waits = false;
            const flush = () => meanwhile(db, String(attempts[0]), () => store.students.remove(id));
            return { writable, readable: readable.pipeThrough(new TransformStream({ flush })) };
          }
        },
      );
      await packLoose(db);
      expect(waits).toBe(false);
      expect([await db.blocks.count(), await db.loose.count()]).toEqual([left.blocks, left.loose]);
    } finally {
      vi.unstubAllGlobals();
      db.close();
    }
  });

  it('by an older schema are packed anew', async () => {
    const { store } = await many(20);
    await packed(store, 1);
    const raw = await new Dexie(store.name).open();
    await raw
      .table('blocks')
      .toCollection()
      .modify({ schema: SCHEMA_VERSION - 1 });
    const again = await openStore({ name: store.name, digest: practised, digestVersion: DIGEST_VERSION });
    open.push(again);
    await expect
      .poll(async () => (await raw.table('blocks').toArray()).map(({ schema }) => schema), {
        timeout: 10_000,
      })
      .toEqual([SCHEMA_VERSION]);
    raw.close();
  });
});

describe('homework', () => {
  it('goes out by link with no name in it and opens exactly these tests', async () => {
    const store = await filled();
    const [student] = await store.students.all();
    const [homework] = await store.students.homework(student!.id);
    const thresholds = { there: 90, close: 55 };
    const fragment = await homeworkFragment(homework!, thresholds);
    expect(fragment).toMatch(/^[A-Za-z0-9_-]+$/);
    const plain = { homeworkId: homework!.id, manner: 'strict', thresholds, tests: homework!.tests };
    expect(await readHomework(fragment)).toEqual({
      ...{ ...plain, dueOn: null, text: '', remarks: [], sitting: null, sound: false, question: null },
    });
    const said = {
      id: 'd'.repeat(32),
      attemptId: 'e'.repeat(32),
      atMs: 5,
      mark: 70,
      remark: 'Sing it first.',
    };
    const words = { dueOn: '2026-12-05', text: 'Slowly, and sing first.' };
    const full = await homeworkFragment({ ...homework!, ...words }, thresholds, [said]);
    expect(await readHomework(full)).toEqual({
      ...plain,
      ...words,
      remarks: [said],
      sitting: null,
      sound: false,
      question: null,
    });
    // How its rhythms are asked about goes along, in the record and in the link.
    const question = { form: 'part', counts: 'always' } as const;
    const { studentId, manner, tests } = homework!;
    const asking = await store.students.setHomework({ studentId, manner, tests, question });
    expect((await store.students.homework(studentId)).find(({ id }) => id === asking.id)).toEqual(asking);
    expect(await readHomework(await homeworkFragment(asking, thresholds))).toMatchObject({ question });
    const wrong = { ...asking, question: { form: 'part', counts: 'x' } } as unknown as typeof asking;
    await expect(readHomework(await homeworkFragment(wrong, thresholds))).rejects.toMatchObject({
      code: 'invalid',
    });
    await expect(readHomework(full.slice(0, -5))).rejects.toMatchObject({ code: 'truncated' });
    // As the QR code has it.
    expect(await readHomework(codeInFigures(full))).toEqual(await readHomework(full));
    await expect(readHomework(codeInFigures(full).slice(0, -5))).rejects.toMatchObject({ code: 'truncated' });
    await expect(readHomework(`5${full.slice(1)}`)).rejects.toMatchObject({ code: 'newer-version' });
  });

  it('by a link from before outcomes travelled is read, and by one with outcomes that cannot be is not', async () => {
    const { test } = sampleAttempt('0'.repeat(32), 0);
    const link = { homeworkId: 'a'.repeat(32), manner: 'strict', codes: [wholeCode(test as PracticeTest)] };
    const fragment = async (more: object) => toBase64Url(await pack('homework', { ...link, ...more }));
    expect(await readHomework(await fragment({ version: 1 }))).toMatchObject({
      thresholds: null,
      tests: [test],
    });
    const wrong = { version: 2, thresholds: { there: 50, close: 60 } };
    await expect(readHomework(await fragment(wrong))).rejects.toMatchObject({ code: 'invalid' });
    await expect(readHomework(await fragment({ version: 3 }))).rejects.toMatchObject({
      code: 'newer-version',
    });
  });

  it('takes what the teacher said of the last takes back to the student, once, where they were made', async () => {
    const teacher = await fresh();
    const student = await teacher.students.add('S', 'guitar');
    const { test } = sampleAttempt(student.id, 0);
    const set = await teacher.students.setHomework({
      studentId: student.id,
      manner: 'strict',
      tests: [test],
    });
    const pupil = await fresh();
    const me = await pupil.students.add('Me', 'guitar');
    const done = await pupil.attempts.finish(null, sampleAttempt(me.id, 0, set.id));
    const own = await teacher.attempts.finish(null, sampleAttempt(student.id, 1));
    await teacher.results.add(await packResults(set.id, [done]));
    const say = (attemptId: string, mark: number | null, remark: string) =>
      teacher.attempts.override({ attemptId, verdicts: [], mark, remark });
    await say(done.id, null, 'not this');
    await say(done.id, 71, 'Sing it first.');
    // Of a take in the lesson the student's machine knows nothing.
    await say(own.id, 5, 'in the lesson');
    const said = await teacher.remarks.toSend(student.id, 0);
    expect(said).toMatchObject([{ attemptId: done.id, mark: 71, remark: 'Sing it first.' }]);
    const { remarks } = await readHomework(await homeworkFragment(set, { there: 85, close: 65 }, said));
    for (let twice = 0; twice < 2; twice++) await pupil.remarks.receive(remarks);
    expect(await pupil.attempts.overridesOf(done.id)).toMatchObject([{ mark: 71, remark: 'Sing it first.' }]);
    expect((await pupil.attempts.digests(me.id)).map(({ mark }) => mark)).toEqual([71]);
  });

  it('by a link of version 2, from before all of it was packed together, is still read', async () => {
    expect(await readHomework(HOMEWORK_2)).toMatchObject({
      ...{ homeworkId: 'a'.repeat(32), manner: 'relaxed', thresholds: { there: 90, close: 70 } },
      ...{ dueOn: null, text: '', remarks: [] },
      tests: [
        { kind: 'melody', level: 1, seed: 11 },
        { kind: 'rhythm', level: 2, seed: 12 },
      ],
    });
  });

  it('comes back by file and link, twice, in any order, as each attempt once, without the name', async () => {
    const teacher = await filled();
    const [student] = await teacher.students.all();
    const [homework] = await teacher.students.homework(student!.id);
    const pupil = await fresh();
    const me = await pupil.students.add('Secret Name', 'guitar');
    const done = [0, 1, 2].map((n) => sampleAttempt(me.id, n, homework!.id));
    await pupil.attempts.finish(null, done[0]!);
    const early = await resultsFragment(homework!.id, await pupil.attempts.ofHomework(homework!.id));
    await pupil.attempts.finish(null, done[1]!);
    await pupil.attempts.finish(null, done[2]!);
    const late = await packResults(homework!.id, await pupil.attempts.ofHomework(homework!.id));
    const before = (await teacher.attempts.newest(student!.id, 100)).length;
    for (const results of [late, early, late, early]) await teacher.results.add(results);
    const after = await teacher.attempts.newest(student!.id, 100);
    expect(after.length).toBe(before + 3);
    expect(await teacher.backup.conflicts()).toEqual([]);
    expect(new TextDecoder('latin1').decode(late)).not.toContain(me.id);
    const back = after.filter((a) => a.homeworkId === homework!.id);
    expect(new Set(back.map((a) => a.studentId))).toEqual(new Set([student!.id]));
  });

  it('carries the sound of its takes where both said yes, and of no others', async () => {
    const teacher = await fresh();
    const student = await teacher.students.add('S', 'guitar');
    const { test } = sampleAttempt(student.id, 0);
    const asked = { studentId: student.id, manner: 'strict', tests: [test] } as const;
    const set = await teacher.students.setHomework(asked);
    const offered = await homeworkFragment(set, { there: 85, close: 65 }, [], true);
    expect((await readHomework(offered)).sound).toBe(true);
    expect((await readHomework(await homeworkFragment(set, { there: 85, close: 65 }))).sound).toBe(false);

    const pupil = await fresh();
    const me = await pupil.students.add('Me', 'guitar');
    const done = await pupil.attempts.finish(null, sampleAttempt(me.id, 0, set.id));
    const other = await pupil.attempts.finish(null, sampleAttempt(me.id, 1));
    const bytes = Uint8Array.from({ length: 500 }, (_, i) => i);
    for (const { id } of [done, other]) await pupil.audio.save(id, { mime: 'audio/wav', bytes }, 1e6);
    const sound = await Promise.all([done, other].map(async ({ id }) => (await pupil.audio.get(id))!));
    const file = await packResults(set.id, [done], sound);

    // Who keeps no sound keeps none of this either.
    expect(await teacher.results.add(file)).toMatchObject({ added: { attempts: 1 }, heard: 0 });
    expect(await teacher.audio.get(done.id)).toBeNull();
    expect(await teacher.results.add(file, undefined, 1e6)).toMatchObject({ same: 1, heard: 1 });
    const kept = await teacher.audio.get(done.id);
    expect([kept!.studentId, kept!.bytes]).toEqual([student.id, bytes]);
    expect(await teacher.audio.get(other.id)).toBeNull();
    expect((await teacher.audio.use()).takes).toBe(1);

    // Sound that belongs to none of its attempts makes it no results file.
    const { json } = await unpack(file);
    const listed = (json as { audio: { attemptId: string }[] }).audio;
    const stray = { ...(json as object), audio: listed.map((one) => ({ ...one, attemptId: other.id })) };
    await expect(
      teacher.results.add(await pack('results', stray, [bytes]), undefined, 1e6),
    ).rejects.toMatchObject({ code: 'invalid' });
    expect((await teacher.audio.use()).takes).toBe(1);
  });

  it('of another machine is refused until a student is chosen', async () => {
    const teacher = await fresh();
    const homeworkId = 'b'.repeat(32);
    const pupil = await fresh();
    const me = await pupil.students.add('P', 'guitar');
    await pupil.attempts.finish(null, sampleAttempt(me.id, 0, homeworkId));
    const file = await packResults(homeworkId, await pupil.attempts.ofHomework(homeworkId));
    await expect(teacher.results.add(file)).rejects.toMatchObject({ code: 'unknown-homework' });
    const chosen = await teacher.students.add('Q', 'guitar');
    expect((await teacher.results.add(file, chosen)).added.attempts).toBe(1);
  });

  it('is refused where a backup is expected, and a backup where results are', async () => {
    const store = await filled();
    const results = await packResults('c'.repeat(32), []);
    await expect(store.backup.restore(results)).rejects.toMatchObject({ code: 'wrong-kind' });
    await expect(store.results.add(await store.backup.export())).rejects.toMatchObject({
      code: 'wrong-kind',
    });
  });
});

describe('the reminder', () => {
  it('counts what no export holds', async () => {
    const store = await fresh();
    expect(await store.backup.state()).toEqual({ lastExportMs: null, attemptsSince: 0, firstSinceMs: null });
    const { id } = await store.students.add('R', 'guitar');
    const first = await store.attempts.finish(null, sampleAttempt(id, 0));
    await store.attempts.finish(null, sampleAttempt(id, 1));
    expect(await store.backup.state()).toMatchObject({ attemptsSince: 2, firstSinceMs: first.atMs });
    await store.backup.export();
    const during = await store.attempts.finish(null, sampleAttempt(id, 2));
    await store.backup.exported();
    expect(await store.backup.state()).toMatchObject({ attemptsSince: 1, firstSinceMs: during.atMs });
  });

  it('counts nothing that a backup just restored holds, and what was here besides', async () => {
    const from = await filled();
    const file = await from.backup.export();
    const { exportedAtMs } = await unpackBackup(file);
    const store = await fresh();
    await store.backup.restore(file);
    expect(await store.backup.state()).toEqual({
      ...{ lastExportMs: exportedAtMs, attemptsSince: 0, firstSinceMs: null },
    });
    const { id } = await store.students.add('S', 'guitar');
    const own = await store.attempts.finish(null, sampleAttempt(id, 0));
    await store.backup.restore(file);
    expect(await store.backup.state()).toMatchObject({ attemptsSince: 1, firstSinceMs: own.atMs });
  });

  it('counts results that came back although they are older than the last backup', async () => {
    const pupil = await fresh();
    const homeworkId = 'b'.repeat(32);
    const me = await pupil.students.add('P', 'guitar');
    const done = await pupil.attempts.finish(null, sampleAttempt(me.id, 0, homeworkId));
    const results = await packResults(homeworkId, [done]);
    const teacher = await fresh();
    const student = await teacher.students.add('Q', 'guitar');
    await teacher.attempts.finish(null, sampleAttempt(student.id, 1));
    await teacher.backup.export();
    await teacher.backup.exported();
    await teacher.results.add(results, student);
    expect(await teacher.backup.state()).toMatchObject({ attemptsSince: 1, firstSinceMs: done.atMs });
  });
});
