import { ImportProblem } from '../problem.ts';

/** Version of the records, in the database and in files alike. Raise it with a step in {@link STEPS}. */
export const SCHEMA_VERSION = 6;

/** Takes the records of version n to those of n + 1. Pure. */
export type MigrationStep = (records: unknown) => unknown;

/** `STEPS[n]` leads from version n to n + 1. What is not well formed is handed on, for the schema to refuse. */
export const STEPS: Readonly<Record<number, MigrationStep>> = {
  // A student may have outcomes of their own; none had yet.
  1: (records) =>
    isObject(records) && Array.isArray(records['students'])
      ? { ...records, students: records['students'].map(withoutThresholds) }
      : records,
  // A student has a card, homework a day and a line: nothing had been said of either.
  2: (records) =>
    isObject(records)
      ? {
          ...records,
          ...withRows(records, 'students', NO_CARD),
          ...withRows(records, 'homework', NO_WORDS),
        }
      : records,
  // Help used again and again was listed again and again; now it is counted.
  3: (records) =>
    isObject(records) && Array.isArray(records['attempts'])
      ? { ...records, attempts: records['attempts'].map(withCountedHelp) }
      : records,
  // Homework says what counted as there: of earlier ones it is not known. An answer may also be a beat, and may count: none did yet.
  4: (records) =>
    isObject(records) ? { ...records, ...withRows(records, 'homework', NO_OUTCOMES) } : records,
  // Whole sittings are kept: there were none.
  5: (records) => (isObject(records) ? { sittings: [], ...records } : records),
};

/** What a student of version 2 has no word of, and homework. */
export const NO_CARD = {
  tuningId: null,
  level: null,
  manner: null,
  lessonDay: null,
  group: '',
  examOn: null,
  remark: '',
} as const;
export const NO_WORDS = { dueOn: null, text: '' } as const;
/** What homework up to version 4 has no word of. */
export const NO_OUTCOMES = { thresholds: null } as const;

const withRows = (records: Record<string, unknown>, table: string, fresh: object): object => {
  const rows = records[table];
  return Array.isArray(rows)
    ? { [table]: rows.map((row: unknown) => (isObject(row) ? { ...fresh, ...row } : row)) }
    : {};
};

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const withoutThresholds = (student: unknown): unknown =>
  isObject(student) ? { thresholds: null, ...student } : student;

/** An attempt whose help was a list. */
export function withCountedHelp(attempt: unknown): unknown {
  if (!isObject(attempt) || !Array.isArray(attempt['help'])) return attempt;
  const times = new Map<unknown, number>();
  for (const kind of attempt['help']) times.set(kind, (times.get(kind) ?? 0) + 1);
  return { ...attempt, help: Object.fromEntries(times) };
}

/**
 * Brings records of an earlier version to the present one.
 * @throws ImportProblem 'newer-version' for records of a version not yet known here; 'invalid' for one that
 *   never was.
 */
export function migrate(
  value: unknown,
  from: number,
  to: number = SCHEMA_VERSION,
  steps: Readonly<Record<number, MigrationStep>> = STEPS,
): unknown {
  if (!Number.isInteger(from) || from < 1) throw new ImportProblem('invalid', `no schema version ${from}`);
  if (from > to) throw new ImportProblem('newer-version', `schema version ${from}, this app knows ${to}`);
  let migrated = value;
  for (let version = from; version < to; version++) {
    const step = steps[version];
    if (!step) throw new RangeError(`no migration step from version ${version}`);
    migrated = step(migrated);
  }
  return migrated;
}
