import * as v from 'valibot';
import type { Covers, chordMark, described, keptForTeacher, noteMark } from '../../music/schema/index.ts';
import type {
  ChordMark,
  ChordVerdict,
  Description,
  KeptForTeacher,
  Mark,
  NoteVerdict,
} from '../../tests-engine/index.ts';
import type { Json, Records } from '../types.ts';
import {
  anyTask,
  anyVerdictKind,
  heardTake,
  id,
  instant,
  instrument,
  LIMITS,
  list,
  manner,
  mark,
  number,
  points,
  soundedTask,
  text,
  questionSet,
  sittingRun,
  sittingSetup,
  thresholds,
  whole,
} from '../../music/schema/index.ts';
import { day, name } from './parts.ts';

export { firstIssue } from '../../music/schema/index.ts';

const times = v.exactOptional(whole(LIMITS.helpTimes));
const help = v.strictObject({
  repeat: times,
  slower: times,
  halves: times,
  'first-note': times,
  'live-note': times,
});

export const attempt = v.pipe(
  v.strictObject({
    id,
    studentId: id,
    homeworkId: v.nullable(id),
    atMs: instant,
    order: instant,
    test: soundedTask,
    manner,
    help,
    take: heardTake,
    zeroSec: number(LIMITS.takeSec),
    latency: v.nullable(
      v.strictObject({
        ms: number([-1e5, 1e5]),
        uncertaintyMs: number([0, 1e5]),
        source: v.exactOptional(v.picklist(['loudspeaker', 'earcup', 'notes', 'reported'])),
      }),
    ),
    listenerVersion: whole([0, 1e6]),
    mark,
    thresholds,
    answer: v.nullable(
      v.union([
        v.picklist(['A', 'B']),
        v.strictObject({
          form: v.picklist(['beat', 'part']),
          beat: whole([0, LIMITS.beats[1] * LIMITS.bars[1]]),
        }),
      ]),
    ),
    answerCounts: v.exactOptional(v.literal(true)),
  }),
  v.check(
    ({ test, take, mark: given }) =>
      (given.type !== undefined && given.type !== 'notes') ||
      !('phrase' in test) ||
      given.verdicts.every(
        ({ targetIndex, playedIndex }) =>
          (targetIndex === null ||
            targetIndex < ('part' in test ? (test.part?.length ?? 0) : test.phrase.notes.length)) &&
          (playedIndex === null || playedIndex < take.notes.length),
      ),
    'a verdict points at a note that is not there',
  ),
  v.check(
    ({ test, mark: given }) =>
      given.type !== 'chords' ||
      !('chords' in test) ||
      given.verdicts.every(({ askedIndex }) => askedIndex === null || askedIndex < test.chords.length),
    'a verdict points at a chord that is not there',
  ),
);

const json: v.GenericSchema<Json> = v.lazy(() =>
  v.union([
    v.string(),
    v.pipe(v.number(), v.finite()),
    v.boolean(),
    v.null(),
    v.array(json),
    v.record(v.string(), json),
  ]),
);

/** One strict schema a table; an unknown key anywhere refuses the record. */
export const tables = {
  students: v.strictObject({
    id,
    name,
    instrument,
    // A name of the table of tunings, of this or of a later version: printable signs.
    tuningId: v.nullable(v.pipe(text(60), v.regex(/^\P{Cc}+$/u))),
    level: v.nullable(whole([1, 10])),
    manner: v.nullable(manner),
    lessonDay: v.nullable(whole([0, 6])),
    group: text(60),
    examOn: v.nullable(day),
    remark: text(2000),
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
    verdicts: list(v.strictObject({ index: whole([0, LIMITS.verdicts]), kind: anyVerdictKind }), [
      0,
      LIMITS.verdicts,
    ]),
    mark: v.nullable(points),
    remark: text(2000),
    rubric: v.exactOptional(
      list(
        v.strictObject({
          text: text(LIMITS.rubricSigns),
          value: v.nullable(v.union([number(LIMITS.rubricPoints), text(LIMITS.rubricSigns)])),
        }),
        LIMITS.rubricLines,
      ),
    ),
  }),
  lessonNotes: v.strictObject({ id, studentId: id, atMs: instant, text: text(10_000) }),
  homework: v.pipe(
    v.strictObject({
      id,
      studentId: id,
      createdAtMs: instant,
      manner,
      dueOn: v.nullable(day),
      text: text(200),
      tests: v.pipe(v.array(anyTask), v.maxLength(100)),
      sitting: v.exactOptional(sittingSetup),
      thresholds: v.nullable(thresholds),
      question: v.exactOptional(questionSet),
    }),
    v.check(({ tests, sitting }) => tests.length > 0 || sitting !== undefined, 'homework of nothing'),
    v.check(({ id: own, sitting }) => (sitting?.id ?? own) === own, 'a sitting under another id'),
  ),
  blindMarks: v.strictObject({ id, attemptId: id, studentId: id, rater: name, value: points, atMs: instant }),
  settings: v.strictObject({ key: v.pipe(v.string(), v.minLength(1), v.maxLength(100)), value: json }),
  sittings: v.pipe(
    v.strictObject({ id, studentId: id, atMs: instant, run: sittingRun }),
    v.check(({ id: own, run }) => own === run.id, 'a sitting under another id'),
  ),
} as const satisfies Record<keyof Records, v.GenericSchema>;

export const TABLE_NAMES = Object.keys(tables) as (keyof Records)[];

/** The record schemas as one; how many rows there may be is looked at before them. */
export const records = v.strictObject(
  Object.fromEntries(TABLE_NAMES.map((table) => [table, v.array(tables[table])])) as {
    [T in keyof typeof tables]: v.ArraySchema<(typeof tables)[T], undefined>;
  },
);

/** Fails to compile when a contract gains a key that the schema would refuse: such an attempt could not be kept. */
type Notes = v.InferInput<typeof noteMark>;
type Chords = v.InferInput<typeof chordMark>;
export const COVERED: readonly [
  Covers<NoteVerdict, Notes['verdicts'][number]>,
  Covers<Mark, Notes>,
  Covers<ChordVerdict, Chords['verdicts'][number]>,
  Covers<ChordMark, Chords>,
  Covers<Description, v.InferInput<typeof described>>,
  Covers<KeptForTeacher, v.InferInput<typeof keptForTeacher>>,
] = [true, true, true, true, true, true];
