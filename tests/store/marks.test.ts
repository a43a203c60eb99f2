import { describe, expect, it } from 'vitest';
import { effectiveMark, packResults } from '../../src/store/index.ts';
import type { Attempt, Override, Records } from '../../src/store/index.ts';
import { attemptsCsv } from '../../src/store/csv.ts';
import { unpackBackup } from '../../src/store/backup/file.ts';
import { unpackResults } from '../../src/store/homework/resultsFile.ts';
import { practised, type AnyMark } from '../../src/tests-engine/index.ts';
import { NO_CARD } from '../../src/store/schema/migrations.ts';
import { ID, packBackup } from './support/backup.ts';
import { sampleAttempt } from './support/sample.ts';

const common = {
  version: 1,
  range: null,
  readings: [],
  advice: { code: 'change-late', values: { chord: 'F', ms: 180 } },
} as const;
const MARKS: Readonly<Record<string, AnyMark>> = {
  chords: {
    ...common,
    type: 'chords',
    mark: 74,
    outcome: 'close',
    reason: null,
    verdicts: [
      {
        ...{ kind: 'yes', askedIndex: 0, atSec: 0.01, errorMs: 10 },
        ...{ missing: [], foreign: [], bass: null },
      },
      { kind: 'no', askedIndex: 1, atSec: 2, errorMs: 180, missing: [9], foreign: [10], bass: 43 },
      { kind: 'missed', askedIndex: 2, atSec: null, errorMs: null, missing: [], foreign: [], bass: null },
    ],
  },
  described: {
    ...common,
    type: 'described',
    mark: null,
    outcome: null,
    reason: 'described',
    facts: [{ code: 'in-scale', values: { percent: 92 } }],
  },
  teacher: {
    ...common,
    type: 'teacher',
    mark: null,
    outcome: null,
    reason: 'for-teacher',
    facts: [{ code: 'tempo', values: { bpm: 92 } }],
  },
};
const attemptWith = (mark: AnyMark): Attempt => ({
  ...sampleAttempt(ID(1), 1),
  ...{ id: ID(100), atMs: 1e12, order: 1e12, mark, homeworkId: ID(4) },
});
const recordsOf = (attempt: Attempt): Records => ({
  students: [{ id: ID(1), name: 'A', instrument: 'guitar', createdAtMs: 1e12, thresholds: null, ...NO_CARD }],
  attempts: [attempt],
  ...{ overrides: [], lessonNotes: [], homework: [], blindMarks: [], sittings: [], settings: [] },
});
const override = (given: Partial<Override>): Override => ({
  ...{ id: ID(7), attemptId: ID(100), studentId: ID(1), atMs: 1e12, order: 1e12 },
  ...{ verdicts: [], mark: null, remark: '' },
  ...given,
});

describe.each(Object.entries(MARKS))('an attempt with a mark of the type %s', (_, mark) => {
  const attempt = attemptWith(mark);
  it('comes through a backup and a homework’s results as it was', async () => {
    const file = await packBackup({ exportedAtMs: 1e12, records: recordsOf(attempt), audio: [] });
    expect((await unpackBackup(file)).records.attempts).toEqual([attempt]);
    const results = await unpackResults(await packResults(ID(4), [attempt]));
    expect(results.attempts[0]!.mark).toEqual(mark);
  });
  it('has its line in the table of attempts', () => {
    const csv = attemptsCsv(recordsOf(attempt));
    expect(csv.split('\r\n')).toHaveLength(3);
    expect(csv).toContain(`,${mark.mark ?? ''},${mark.mark ?? ''},${mark.outcome ?? ''},`);
  });
  it('can be given a mark by the teacher, and says nothing of notes to progress', () => {
    const given = effectiveMark(attempt, [override({ mark: 90 })]);
    expect(given).toMatchObject({ type: mark.type, mark: 90, outcome: 'there', reason: null });
    const digest = practised({ ...attempt, mark: given });
    expect(digest).toMatchObject({ mark: 90, outcome: 'there', biasMs: null });
    expect(digest.time.every((packed) => (packed & 3) === 2)).toBe(true);
  });
});

describe('verdicts on chords', () => {
  it('are changed one by one; a verdict of another kind of mark changes nothing', () => {
    const attempt = attemptWith(MARKS['chords']!);
    const changed = effectiveMark(attempt, [
      override({
        verdicts: [
          { index: 1, kind: 'unsure' },
          { index: 0, kind: 'early' },
        ],
      }),
    ]);
    expect('verdicts' in changed && changed.verdicts.map(({ kind }) => kind)).toEqual([
      'yes',
      'unsure',
      'missed',
    ]);
  });
});
