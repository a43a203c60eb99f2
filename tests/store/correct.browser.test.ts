import Dexie from 'dexie';
import { afterEach, describe, expect, it } from 'vitest';
import { openStore, packResults } from '../../src/store/index.ts';
import type { Store } from '../../src/store/index.ts';
import { unpackBackup } from '../../src/store/backup/file.ts';
import { DIGEST_VERSION, practised } from '../../src/tests-engine/index.ts';
import { sampleAttempt } from './support/sample.ts';

const open: Store[] = [];
let count = 0;
async function fresh(): Promise<Store> {
  const name = `test-correct-${Date.now()}-${count++}`;
  const store = await openStore({ name, digest: practised, digestVersion: DIGEST_VERSION });
  open.push(store);
  return store;
}
afterEach(async () => {
  for (const store of open.splice(0)) store.close();
  for (const name of await Dexie.getDatabaseNames()) if (name.startsWith('test-')) await Dexie.delete(name);
});

/** Two students, three attempts of the first; the second attempt has a sound, an override and a blind mark. */
async function two() {
  const store = await fresh();
  const [first, second] = [await store.students.add('A', 'guitar'), await store.students.add('B', 'guitar')];
  const attempts = [];
  for (const n of [0, 1, 2]) attempts.push(await store.attempts.finish(null, sampleAttempt(first.id, n)));
  const one = attempts[1]!;
  await store.attempts.override({ attemptId: one.id, verdicts: [], mark: 12, remark: 'again' });
  await store.audio.save(one.id, { mime: 'audio/wav', bytes: new Uint8Array(40) }, 1e6);
  await store.students.addBlindMark(one.id, 'kt', 55);
  return { store, first, second, one };
}
const ids = async (store: Store, studentId: string) =>
  (await store.attempts.newest(studentId, 100)).map(({ id }) => id);
const records = async (store: Store) => (await unpackBackup(await store.backup.export())).records;

describe('an attempt in the wrong record', () => {
  it('is moved to another student with all that hangs on it, packed or not, and no backup holds it there', async () => {
    const { store, first, second, one } = await two();
    // Twenty more, so that what is moved lies in a packed block.
    for (let n = 3; n < 23; n++) await store.attempts.finish(null, sampleAttempt(first.id, n));
    await store.backup.export();
    await store.backup.exported();
    await store.attempts.move(one.id, second.id);
    expect(await ids(store, second.id)).toEqual([one.id]);
    expect(await ids(store, first.id)).not.toContain(one.id);
    expect((await store.attempts.digests(second.id)).map(({ mark }) => mark)).toEqual([12]);
    expect(await store.attempts.digests(first.id)).toHaveLength(22);
    expect(await store.backup.state()).toMatchObject({ attemptsSince: 1 });
    const after = await records(store);
    const whose = after.attempts.filter(({ id }) => id === one.id).map(({ studentId }) => studentId);
    expect(whose).toEqual([second.id]);
    expect([...after.overrides, ...after.blindMarks].map(({ studentId }) => studentId)).toEqual([
      ...[second.id, second.id],
    ]);
    expect((await store.audio.get(one.id))!.studentId).toBe(second.id);
    // All of it goes with the student that it now is of.
    await store.students.remove(second.id);
    const left = await records(store);
    expect([left.overrides, left.blindMarks]).toEqual([[], []]);
    expect(await store.audio.use()).toEqual({ takes: 0, bytes: 0 });
  });

  it('is deleted with all that hangs on it', async () => {
    const { store, first, one } = await two();
    await store.attempts.remove(one.id);
    expect(await ids(store, first.id)).toHaveLength(2);
    expect(await store.attempts.digests(first.id)).toHaveLength(2);
    const left = await records(store);
    expect([left.attempts.length, left.overrides, left.blindMarks]).toEqual([2, [], []]);
    expect(await store.audio.use()).toEqual({ takes: 0, bytes: 0 });
    expect(await store.backup.state()).toMatchObject({ attemptsSince: 2 });
  });

  it('stays where it was moved when the results that it came by are added again', async () => {
    const { store, first, second } = await two();
    const homeworkId = 'b'.repeat(32);
    const pupil = await fresh();
    const me = await pupil.students.add('P', 'guitar');
    const done = await pupil.attempts.finish(null, sampleAttempt(me.id, 5, homeworkId));
    const results = await packResults(homeworkId, [done]);
    await store.results.add(results, first);
    await store.attempts.move(done.id, second.id);
    expect(await store.results.add(results, first)).toMatchObject({ same: 1, conflicts: 0 });
    expect(await ids(store, second.id)).toEqual([done.id]);
  });

  it('goes nowhere when the student or the attempt is not here', async () => {
    const { store, first, second, one } = await two();
    const gone = 'f'.repeat(32);
    await expect(store.attempts.move(one.id, gone)).rejects.toMatchObject({ code: 'missing' });
    await expect(store.attempts.move(gone, second.id)).rejects.toMatchObject({ code: 'missing' });
    await expect(store.attempts.remove(gone)).rejects.toMatchObject({ code: 'missing' });
    expect(await ids(store, first.id)).toHaveLength(3);
  });
});

describe('who plays where nobody was chosen', () => {
  it('is one and the same first student for all who ask at once, and nobody where there are several', async () => {
    const store = await fresh();
    const asked = await Promise.all([1, 2, 3].map(() => store.students.onlyOrFirst('Me', 'guitar')));
    expect(new Set(asked.map((one) => one!.id)).size).toBe(1);
    expect(await store.students.all()).toHaveLength(1);
    await store.students.add('Other', 'bass');
    expect(await store.students.onlyOrFirst('Me', 'guitar')).toBeNull();
  });
});
