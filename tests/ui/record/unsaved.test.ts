import { describe, expect, it } from 'vitest';
import { countHelp, tryEach, type Tried } from '../../../src/ui/record/unsaved.ts';
import { UnsavedTakes } from '../../../src/ui/record/unsavedTakes.svelte.ts';
import { checkOwn } from '../../../src/store/schema/index.ts';
import { unpackBackup } from '../../../src/store/backup/file.ts';
import { NO_CARD } from '../../../src/store/schema/migrations.ts';
import { packTakes } from '../../../src/store/index.ts';
import type { Attempt } from '../../../src/store/index.ts';
import { sampleAttempt } from '../../store/support/sample.ts';

const take = (name: string) => ({ name, never: false, studentId: 's' as string | null });
const ID = (n: number) => n.toString(16).padStart(32, '0');

describe('takes that are not in the record', () => {
  it('are tried each by itself: one that can never be written holds up no other, and is not tried again', async () => {
    const outcomes: Record<string, Tried<string>> = {
      a: 'never',
      b: { written: 'B' },
      c: 'not-now',
      d: 'no-student',
      e: { written: 'E' },
    };
    const written: string[] = [];
    const asked: string[] = [];
    const write = (one: { name: string }) => (asked.push(one.name), Promise.resolve(outcomes[one.name]!));
    const left = await tryEach(['a', 'b', 'c', 'd', 'e'].map(take), write, (_, row) => written.push(row));
    expect(written).toEqual(['B', 'E']);
    expect(left.map(({ name, never, studentId }) => [name, never, studentId])).toEqual([
      ['a', true, 's'],
      ['c', false, 's'],
      ['d', false, null],
    ]);
    asked.length = 0;
    await tryEach(left, write, () => undefined);
    expect(asked).toEqual(['c', 'd']);
  });

  it('with a help used 105 times, or a hundred thousand times, fit the record', () => {
    const kinds = Array.from({ length: 105 }, () => 'first-note' as const);
    expect(countHelp(['slower', ...kinds])).toEqual({ slower: 1, 'first-note': 105 });
    const attempt = { ...sampleAttempt(ID(1), 1), id: ID(2), atMs: 1, order: 1 };
    for (const help of [countHelp(kinds), { repeat: 100_000 }])
      expect(checkOwn('attempts', { ...attempt, help })).toMatchObject({ help });
    expect(() => checkOwn('attempts', { ...attempt, help: { repeat: 0 } })).toThrow(TypeError);
    expect(() => checkOwn('attempts', { ...attempt, help: { shouting: 1 } as never })).toThrow(TypeError);
  });

  it('saved to a file can be restored: each with its student, what belongs to nobody to a new one', async () => {
    const student = {
      ...NO_CARD,
      ...{ id: ID(1), name: 'A. B.', instrument: 'bass' as const, createdAtMs: 5, thresholds: null },
    };
    const takes = [1, 2, 3].map((n) => ({
      ...sampleAttempt(ID(1), n),
      id: ID(10 + n),
      atMs: 1000 + n,
      studentId: n === 3 ? null : ID(n === 2 ? 77 : 1),
    }));
    const { records } = await unpackBackup(await packTakes(takes, [student], 'Me'));
    expect(records.attempts.map(({ id }: Attempt) => id)).toEqual([11, 12, 13].map(ID));
    expect(records.students.map(({ name }) => name)).toEqual(['A. B.', 'Me']);
    const nobody = records.students[1]!.id;
    expect(records.attempts.map(({ studentId }) => studentId)).toEqual([ID(1), nobody, nobody]);
  });

  it('that never fit the record are in a file of their own, beside the one that can be restored', async () => {
    const disk = {
      open: () => Promise.resolve(null),
      use: () => Promise.resolve(null),
      wrote: () => undefined,
    };
    const takes = new UnsavedTakes({ disk: { ...disk, problem: null } as never, written: () => undefined });
    const take = (n: number, never: boolean) => ({
      ...{ id: ID(n), atMs: n, draftId: null, studentId: ID(1), never, marked: null as never },
      attempt: sampleAttempt(ID(1), n),
    });
    await takes.add(take(3, false));
    expect(takes.strangers()).toBe(null);
    await takes.add(take(4, true));
    const { records } = await unpackBackup((await takes.file(null, 'Me'))!);
    expect(records.attempts.map(({ id }: Attempt) => id)).toEqual([ID(3)]);
    const kept = JSON.parse(takes.strangers()!) as { take: unknown }[];
    expect(kept.map((one) => one.take)).toEqual([JSON.parse(JSON.stringify(sampleAttempt(ID(1), 4).take))]);
  });
});
