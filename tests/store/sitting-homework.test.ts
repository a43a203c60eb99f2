import { describe, expect, it } from 'vitest';
import { pack, unpack } from '../../src/store/backup/container.ts';
import { exportBackup } from '../../src/store/backup/export.ts';
import { unpackBackup } from '../../src/store/backup/file.ts';
import { homeworkFragment, readHomework } from '../../src/store/homework/homework.ts';
import { packResults, unpackResults } from '../../src/store/homework/resultsFile.ts';
import { checkOwn } from '../../src/store/schema/index.ts';
import { SCHEMA_VERSION } from '../../src/store/schema/migrations.ts';
import type { Homework, KeptSitting } from '../../src/store/types.ts';
import { defaultSetup, sit, standardTuning, startSitting } from '../../src/tests-engine/index.ts';
import { Device } from '../studio/support/devices.ts';
import { ID } from './support/backup.ts';

const thresholds = { there: 85, close: 65 };
const setup = {
  ...defaultSetup({
    ...{ level: 3, instrument: 'guitar', tuning: standardTuning('guitar').strings },
    ...{ id: ID(7), name: 'Mock' },
  }),
};
const homework: Homework = {
  ...{ id: ID(7), studentId: ID(1), createdAtMs: 0, manner: 'strict', dueOn: '2027-01-08', text: '' },
  ...{ tests: [], sitting: setup, thresholds },
};
/** Everything left out, and so over. */
function sat(own = setup): KeptSitting {
  let run = startSitting(own, { id: ID(9), seed: 4, atMs: 1_000, examiner: false });
  for (let n = 0; n < 40 && run.phase !== 'over'; n++) run = sit(run, { type: 'pass' }, 2_000 + n);
  expect(run.phase).toBe('over');
  return { id: run.id, studentId: ID(1), atMs: 3_000, run };
}

describe('a whole sitting as homework', () => {
  it('goes by link with its day, alone or beside tests, and is opened as it was set', async () => {
    const offer = await readHomework(await homeworkFragment(homework, thresholds));
    expect([offer.tests, offer.sitting, offer.dueOn]).toEqual([[], setup, '2027-01-08']);
    expect(checkOwn('homework', homework)).toEqual(homework);
  });
  it('is refused under another id, and homework of nothing is none', async () => {
    const other = { ...homework, sitting: { ...setup, id: ID(8) } };
    await expect(readHomework(await homeworkFragment(other, thresholds))).rejects.toMatchObject({
      code: 'invalid',
    });
    expect(() => checkOwn('homework', other)).toThrow(/a sitting under another id/);
    const { sitting, ...nothing } = homework;
    expect(sitting).toBeDefined();
    await expect(readHomework(await homeworkFragment(nothing, thresholds))).rejects.toMatchObject({
      code: 'invalid',
    });
    expect(() => checkOwn('homework', nothing)).toThrow(/homework of nothing/);
  });
  it('comes back with the results, without whose it is; of other homework none does', async () => {
    const other = sat({ ...setup, id: ID(8) });
    const back = await unpackResults(await packResults(ID(7), [], [], [sat(), other]));
    expect(back.sittings).toEqual([{ ...sat(), studentId: '0'.repeat(32) }]);
    expect((await unpackResults(await packResults(ID(7), []))).sittings).toEqual([]);
  });
  it('is refused in results where it is of another homework, or stands twice', async () => {
    const container = await unpack(await packResults(ID(7), [], [], [sat()]));
    const forged = async (sittings: readonly KeptSitting[]) =>
      unpackResults(await pack('results', { ...(container.json as object), sittings }));
    await expect(forged([sat({ ...setup, id: ID(8) })])).rejects.toThrow(/a sitting of another homework/);
    await expect(forged([sat(), sat()])).rejects.toThrow(/an id stands twice/);
  });
  it('goes into a backup, set and sat, and comes out of it on another machine as it was, once', async () => {
    const alone = () => new Device(() => Promise.reject(new Error('nobody is asked')));
    const [home, other] = [alone(), alone()];
    const { id: studentId } = await home.students.add('A. B.', 'guitar');
    const set = await home.students.setHomework({
      ...{ studentId, manner: 'strict', tests: [], dueOn: '2027-01-08', sitting: setup },
    });
    const done = await home.sittings.put(studentId, sat(set.sitting).run);
    const { records } = await unpackBackup(await exportBackup(home.db, 5_000));
    for (let times = 0; times < 2; times++) {
      await other.restore(records);
      expect(await other.students.homework(studentId)).toEqual([set]);
      expect(await other.sittings.ofHomework(set.id)).toEqual([done]);
    }
    expect(await other.db.conflicts.count()).toBe(0);
    // A sitting whose student is not in the file is refused, with all of it.
    const stray = { ...records, sittings: [{ ...done, studentId: ID(99) }] };
    const file = await pack('backup', {
      ...{ schema: SCHEMA_VERSION, exportedAtMs: 5_000, records: stray, blocks: [], audio: [] },
    });
    await expect(unpackBackup(file)).rejects.toThrow(/sittings: no student/);
  });
});
