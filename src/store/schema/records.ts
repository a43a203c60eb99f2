import * as v from 'valibot';
import type { Json, Records } from '../types.ts';
import {
  between,
  finite,
  id,
  instant,
  instrument,
  list,
  manner,
  name,
  points,
  text,
  thresholds,
  whole,
} from './parts.ts';
import { heardTake, mark, verdictKind } from './take.ts';
import { practiceTest } from './test.ts';

const help = v.picklist(['repeat', 'slower', 'halves', 'first-note', 'live-note']);

export const attempt = v.pipe(
  v.strictObject({
    id,
    studentId: id,
    homeworkId: v.nullable(id),
    atMs: instant,
    order: instant,
    test: practiceTest,
    manner,
    help: list(help, 100),
    take: heardTake,
    zeroSec: between(-3600, 3600),
    latency: v.nullable(
      v.strictObject({
        ms: between(-1e5, 1e5),
        uncertaintyMs: between(0, 1e5),
        source: v.exactOptional(v.picklist(['loudspeaker', 'earcup', 'notes', 'reported'])),
      }),
    ),
    listenerVersion: whole(0, 1e6),
    mark,
    thresholds: v.strictObject({ there: points, close: points }),
    answer: v.nullable(v.picklist(['A', 'B'])),
  }),
  v.check(
    ({ test, take, mark: { verdicts } }) =>
      verdicts.every(
        ({ targetIndex, playedIndex }) =>
          (targetIndex === null || targetIndex < test.phrase.notes.length) &&
          (playedIndex === null || playedIndex < take.notes.length),
      ),
    'a verdict points at a note that is not there',
  ),
);

const json: v.GenericSchema<Json> = v.lazy(() =>
  v.union([v.string(), finite, v.boolean(), v.null(), v.array(json), v.record(v.string(), json)]),
);

/** One strict schema a table; an unknown key anywhere refuses the record. */
export const tables = {
  students: v.strictObject({
    id,
    name,
    instrument,
    createdAtMs: instant,
    thresholds: v.nullable(thresholds),
  }),
  attempts: attempt,
  overrides: v.strictObject({
    id,
    attemptId: id,
    studentId: id,
    atMs: instant,
    order: instant,
    verdicts: list(v.strictObject({ index: whole(0, 10_000), kind: verdictKind }), 10_000),
    mark: v.nullable(points),
    remark: text(2000),
  }),
  lessonNotes: v.strictObject({ id, studentId: id, atMs: instant, text: text(10_000) }),
  homework: v.strictObject({
    id,
    studentId: id,
    createdAtMs: instant,
    manner,
    tests: v.pipe(v.array(practiceTest), v.minLength(1), v.maxLength(100)),
  }),
  blindMarks: v.strictObject({ id, attemptId: id, studentId: id, rater: name, value: points, atMs: instant }),
  settings: v.strictObject({ key: v.pipe(v.string(), v.minLength(1), v.maxLength(100)), value: json }),
} as const satisfies Record<keyof Records, v.GenericSchema>;

export const TABLE_NAMES = Object.keys(tables) as (keyof Records)[];

/** The record schemas as one; a million rows a table is beyond any lifetime of practice. */
export const records = v.strictObject(
  Object.fromEntries(TABLE_NAMES.map((table) => [table, list(tables[table], 1e6)])) as {
    [T in keyof typeof tables]: v.SchemaWithPipe<
      readonly [v.ArraySchema<(typeof tables)[T], undefined>, v.MaxLengthAction<unknown[], number, undefined>]
    >;
  },
);

/** Where and why a value does not fit, in one line: "attempts.3.take.notes.0.midi: …". */
export function firstIssue(issues: readonly v.BaseIssue<unknown>[]): string {
  const issue = issues[0];
  if (!issue) return 'unknown';
  const path = issue.path?.map((step) => String(step.key)).join('.') ?? '';
  return path ? `${path}: ${issue.message}` : issue.message;
}
