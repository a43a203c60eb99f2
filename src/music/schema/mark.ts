import * as v from 'valibot';
import { LIMITS } from './limits.ts';
import { list, measure, number, points, text, whole } from './parts.ts';
import { HEARD_REASONS } from './take.ts';

/** Strict schema of `Mark` (tests-engine/marks). The code of an advice is free: a newer app may have more of them. */
export const verdictKind = v.picklist(['right', 'wrong', 'early', 'late', 'missed', 'extra']);
const chordVerdictKind = v.picklist(['yes', 'no', 'unsure', 'missed', 'extra']);
/** What a teacher may put in a verdict's place. */
export const anyVerdictKind = v.picklist([...verdictKind.options, 'yes', 'no', 'unsure']);
const index = v.nullable(whole([0, LIMITS.takeNotes]));
const semitones = number([-200, 200]);
const advice = v.strictObject({
  code: text(100),
  values: v.record(text(100), v.union([measure, text(200)])),
});

const reasons = [...HEARD_REASONS, 'no-target', 'nothing-played'] as const;
const common = {
  version: whole(LIMITS.version),
  range: v.nullable(v.strictTuple([points, points])),
  outcome: v.nullable(v.picklist(['there', 'close', 'not-yet'])),
  readings: list(advice, [0, LIMITS.readings]),
  advice,
};

/** Marks from before there were others carry no type: they are of notes. */
export const noteMark = v.strictObject({
  ...common,
  type: v.exactOptional(v.literal('notes')),
  mark: v.nullable(points),
  reason: v.nullable(v.picklist(reasons)),
  lost: v.strictObject({ notes: points, rhythm: points, pulse: points, continuity: points }),
  verdicts: list(
    v.strictObject({
      kind: verdictKind,
      targetIndex: index,
      playedIndex: index,
      errorMs: v.nullable(measure),
      errorSemitones: v.nullable(semitones),
      unclear: v.boolean(),
      inStep: v.optional(v.boolean()),
      repeated: v.optional(v.boolean()),
    }),
    [0, LIMITS.verdicts],
  ),
  timing: v.strictObject({
    biasMs: v.nullable(measure),
    unevennessMs: v.nullable(measure),
    driftPercent: v.nullable(measure),
    tempoRatio: number([0, 1000]),
  }),
  transposedBy: semitones,
});

const pitchClasses = list(whole([0, 11]), [0, 12]);
export const chordMark = v.strictObject({
  ...common,
  type: v.literal('chords'),
  mark: v.nullable(points),
  reason: v.nullable(v.picklist(reasons)),
  verdicts: list(
    v.strictObject({
      kind: chordVerdictKind,
      askedIndex: index,
      atSec: v.nullable(number(LIMITS.takeSec)),
      errorMs: v.nullable(measure),
      missing: pitchClasses,
      foreign: pitchClasses,
      bass: v.nullable(number(LIMITS.midi)),
      byHand: v.exactOptional(v.literal(true)),
    }),
    [0, LIMITS.verdicts],
  ),
});

export const described = v.strictObject({
  ...common,
  type: v.literal('described'),
  mark: v.null(),
  reason: v.nullable(v.picklist([...reasons, 'described'])),
  facts: list(advice, [0, LIMITS.facts]),
});

export const keptForTeacher = v.strictObject({
  ...common,
  type: v.literal('teacher'),
  mark: v.null(),
  reason: v.nullable(v.picklist([...reasons, 'for-teacher'])),
  facts: list(advice, [0, LIMITS.facts]),
});

export const mark = v.variant('type', [noteMark, chordMark, described, keptForTeacher]);
