import { describe, expect, it } from 'vitest';
import { pack, unpack } from '../../src/store/backup/container.ts';
import { homeworkFragment, readHomework } from '../../src/store/homework/homework.ts';
import { packResults, unpackResults } from '../../src/store/homework/resultsFile.ts';
import { checkOwn } from '../../src/store/schema/index.ts';
import type { Homework, KeptSitting } from '../../src/store/types.ts';
import { defaultSetup, sit, standardTuning, startSitting } from '../../src/tests-engine/index.ts';
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
});
