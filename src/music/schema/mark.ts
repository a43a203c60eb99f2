import * as v from 'valibot';
import { LIMITS } from './limits.ts';
import { list, measure, number, points, text, whole } from './parts.ts';
import { HEARD_REASONS } from './take.ts';

/** Strict schema of `Mark` (tests-engine/marks). The code of an advice is free: a newer app may have more of them. */
export const verdictKind = v.picklist(['right', 'wrong', 'early', 'late', 'missed', 'extra']);
const index = v.nullable(whole([0, LIMITS.takeNotes]));
const semitones = number([-200, 200]);
const advice = v.strictObject({
  code: text(100),
  values: v.record(text(100), v.union([measure, text(200)])),
});

export const mark = v.strictObject({
  version: whole(LIMITS.version),
  mark: v.nullable(points),
  reason: v.nullable(v.picklist([...HEARD_REASONS, 'no-target', 'nothing-played'])),
  range: v.nullable(v.strictTuple([points, points])),
  outcome: v.nullable(v.picklist(['there', 'close', 'not-yet'])),
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
  readings: list(advice, [0, LIMITS.readings]),
  advice,
});
