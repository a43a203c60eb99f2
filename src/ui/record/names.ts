import type { Student } from '../../store/index.ts';

type Named = Pick<Student, 'id' | 'name' | 'group' | 'instrument' | 'createdAtMs'>;

const same = (one: string, other: string): boolean =>
  one.trim().localeCompare(other.trim(), undefined, { sensitivity: 'accent' }) === 0;

/**
 * What tells a student from others of the same name: the group, else the instrument, where these are different for
 * all of them, else a number in the order in which they were added. null: nobody else has that name.
 * @param instrumentName the instrument in words
 */
export function toldApart(
  student: Named,
  all: readonly Named[],
  instrumentName: (instrument: Student['instrument']) => string,
): string | null {
  const namesakes = all.filter(({ name }) => same(name, student.name));
  if (namesakes.length < 2) return null;
  const different = (tell: (one: Named) => string): boolean =>
    new Set(namesakes.map(tell)).size === namesakes.length;
  if (student.group && different(({ group }) => group)) return student.group;
  if (different(({ instrument }) => instrument)) return instrumentName(student.instrument);
  const inOrder = [...namesakes].sort((a, b) => a.createdAtMs - b.createdAtMs || (a.id < b.id ? -1 : 1));
  return String(inOrder.findIndex(({ id }) => id === student.id) + 1);
}
