import type { Attempt, Conflict, Json, Student } from '../../store/index.ts';
import type { ResultsReport } from '../../store/index.ts';
import { t } from '../messages.ts';
import { taskName } from '../taskWords.ts';
import { dateText } from './save.ts';

/** What became of results that came in. */
export function resultsWords(
  { added, same, conflicts, doubted, heard }: ResultsReport,
  name: string,
): string {
  const words = [t('teacher.results.added', { added: added.attempts, same, name })];
  if (conflicts > 0) words.push(t('results.differ', { count: conflicts }));
  if (doubted > 0) words.push(t('results.doubted', { count: doubted }));
  if (heard > 0) words.push(t('results.heard', { count: heard }));
  return words.join(' ');
}

/** One side of a conflict in a line: whose, which test, which mark, of when; whatever of these it has. */
export function sideWords(
  table: Conflict['table'],
  row: Json | null,
  students: ReadonlyMap<string, Student>,
): string {
  if (row === null) return t('conflict.gone');
  const one = row as unknown as Partial<Record<string, unknown>> & Partial<Attempt>;
  const marks: Readonly<Record<string, unknown>> = {
    attempts: one.mark?.mark,
    overrides: one.mark,
    blindMarks: one['value'],
  };
  const mark = marks[table];
  const owner = students.get(String(one.studentId))?.name;
  const test = one.test && taskName(one.test);
  const tests = Array.isArray(one['tests']) && t('conflict.tests', { count: one['tests'].length });
  const words = one['name'] ?? one['remark'] ?? one['text'];
  const at = one.atMs ?? one['createdAtMs'];
  return [
    owner,
    test,
    tests,
    typeof mark === 'number' && t('conflict.mark', { mark: Math.round(mark) }),
    typeof words === 'string' && words !== '' && `“${words.length > 60 ? `${words.slice(0, 59)}…` : words}”`,
    typeof at === 'number' && dateText(at),
  ]
    .filter((part) => typeof part === 'string' && part !== '')
    .join(', ');
}
