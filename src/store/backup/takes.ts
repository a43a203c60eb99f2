import { randomId } from '../ids.ts';
import { checkOwn } from '../schema/index.ts';
import { NO_CARD } from '../schema/migrations.ts';
import type { Attempt, Student } from '../types.ts';
import { packRecords } from './file.ts';

/** A take that is in no record, with the student it belongs to where that is known. */
export type LooseTake = Omit<Attempt, 'order' | 'studentId'> & { readonly studentId: string | null };

/**
 * Takes that could not be written, as a backup file: restored, they are where they would have been.
 * @param students those known here; a take of nobody goes to a new one of this name
 * @throws TypeError for a take that fits no record
 */
export function packTakes(
  takes: readonly LooseTake[],
  students: readonly Student[],
  name: string,
): Promise<Uint8Array<ArrayBuffer>> {
  const nobody: Student = {
    ...NO_CARD,
    ...{ id: randomId(), name, createdAtMs: takes[0]?.atMs ?? 0, thresholds: null },
    instrument: takes[0]?.test.instrument ?? 'guitar',
  };
  const known = new Map([...students, nobody].map((student) => [student.id, student]));
  const owner = (id: string | null): Student => known.get(id ?? '') ?? nobody;
  const attempts = takes.map(
    ({ studentId, ...take }, i) =>
      checkOwn('attempts', { ...take, studentId: owner(studentId).id, order: take.atMs + i }) as Attempt,
  );
  const owners = [...new Set(takes.map(({ studentId }) => owner(studentId)))];
  return packRecords({ students: owners, attempts });
}
