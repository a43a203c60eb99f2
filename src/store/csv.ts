import { formOf, isRight } from '../music/question.ts';
import { written } from '../music/task.ts';
import { byAttempt, effectiveMark, newestOverride } from './effective.ts';
import type { Records } from './types.ts';

const COLUMNS = [
  'attempt',
  'student',
  'time_utc',
  'kind',
  'level',
  'key',
  'tempo_bpm',
  'manner',
  'help',
  'machine_mark',
  'mark',
  'outcome',
  'right',
  'wrong',
  'early',
  'late',
  'missed',
  'extra',
  'bias_ms',
  'unevenness_ms',
  'answer_right',
  'remark',
  'seed',
  'question',
] as const;

/** One field by RFC 4180; a text that a spreadsheet would run as a formula gets an apostrophe before it. */
function field(value: string | number | null): string {
  if (value === null) return '';
  const text = typeof value === 'string' && /^[=+\-@\t\r]/.test(value) ? `'${value}` : String(value);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/**
 * All attempts as CSV (RFC 4180: commas, CRLF, header line), in order, one a line; UTF-8 with a byte order
 * mark, without which spreadsheets read accents wrongly. `mark`, `outcome` and the verdict counts are those
 * that count, overrides included; `machine_mark` is the original.
 */
export function attemptsCsv(records: Records): string {
  const names = new Map(records.students.map(({ id, name }) => [id, name]));
  const overrides = byAttempt(records.overrides);
  const lines = [...records.attempts]
    .sort((a, b) => a.order - b.order || (a.id < b.id ? -1 : 1))
    .map((attempt) => {
      const own = overrides.get(attempt.id) ?? [];
      const mark = effectiveMark(attempt, own);
      const kinds = 'verdicts' in mark ? mark.verdicts.map(({ kind }) => kind as string) : null;
      const count = (kind: string) => kinds && kinds.filter((one) => one === kind).length;
      const timing = 'timing' in mark ? mark.timing : null;
      const { test, answer } = attempt;
      const notes = written(test);
      const right = answer !== null && 'question' in test ? isRight(test, answer) : null;
      const values: Record<(typeof COLUMNS)[number], string | number | null> = {
        attempt: attempt.id,
        student: names.get(attempt.studentId) ?? '',
        time_utc: new Date(attempt.atMs).toISOString(),
        kind: test.kind,
        level: notes?.level ?? null,
        key: notes ? `${notes.key.tonic} ${notes.key.scale}` : null,
        tempo_bpm: test.tempoBpm,
        manner: attempt.manner,
        help: Object.entries(attempt.help)
          .map(([kind, times]) => (times === 1 ? kind : `${kind}×${times}`))
          .join(' '),
        machine_mark: attempt.mark.mark,
        mark: mark.mark,
        outcome: mark.outcome,
        right: count('right'),
        wrong: count('wrong'),
        early: count('early'),
        late: count('late'),
        missed: count('missed'),
        extra: count('extra'),
        bias_ms: timing?.biasMs ?? null,
        unevenness_ms: timing?.unevennessMs ?? null,
        answer_right: right === null ? null : right ? 'yes' : 'no',
        remark: newestOverride(own)?.remark ?? '',
        seed: test.seed,
        question: right === null || answer === null ? null : formOf(answer),
      };
      return COLUMNS.map((column) => field(values[column])).join(',');
    });
  return `\uFEFF${[COLUMNS.join(','), ...lines].join('\r\n')}\r\n`;
}

/** Human marks beside the machine's, one a line, without names: evidence for how well they agree. */
export function blindMarksCsv(records: Records): string {
  const attempts = new Map(records.attempts.map((attempt) => [attempt.id, attempt]));
  const lines = records.blindMarks.flatMap(({ attemptId, rater, value, atMs }) => {
    const attempt = attempts.get(attemptId);
    if (!attempt) return [];
    const { mark, test } = attempt;
    const at = new Date(atMs).toISOString();
    return [
      [attemptId, rater, value, at, mark.mark, mark.version, test.kind, written(test)?.level ?? null]
        .map(field)
        .join(','),
    ];
  });
  const head = 'attempt,rater,human_mark,time_utc,machine_mark,marker_version,kind,level';
  return `\uFEFF${[head, ...lines].join('\r\n')}\r\n`;
}
