import * as v from 'valibot';
import { between, finite, list, text, whole } from './parts.ts';

/** Strict schemas of `HeardTake` (notes.ts) and `Mark` (tests-engine/marks/types.ts). */
const REASONS = [
  'silence',
  'too-quiet',
  'clipped',
  'no-stream',
  'not-an-instrument',
  'backing-only',
  'backing-too-loud',
  'unclear',
] as const;

export const heardTake = v.strictObject({
  // 5,000 notes: a minute of semiquavers at 300 bpm is 1,200.
  notes: list(
    v.strictObject({
      onsetSec: finite,
      offsetSec: finite,
      midi: between(0, 127),
      cents: between(-100, 100),
      levelDb: finite,
      confidence: between(0, 1),
    }),
    5000,
  ),
  tuningCents: between(-100, 100),
  heard: v.strictObject({
    verdict: v.picklist(['ok', 'caution', 'refused']),
    reason: v.nullable(v.picklist(REASONS)),
    delayMs: v.optional(v.nullable(finite)),
    driftPpm: v.optional(v.nullable(finite)),
    cancellationDb: v.optional(v.nullable(finite)),
  }),
});

export const verdictKind = v.picklist(['right', 'wrong', 'early', 'late', 'missed', 'extra']);
const index = v.nullable(whole(0, 5000));
const points = between(0, 100);
const advice = v.strictObject({
  code: text(100),
  values: v.record(text(100), v.union([finite, text(200)])),
});

export const mark = v.strictObject({
  version: whole(1, 1e6),
  mark: v.nullable(points),
  reason: v.nullable(v.picklist([...REASONS, 'no-target', 'nothing-played'])),
  range: v.nullable(v.strictTuple([points, points])),
  outcome: v.nullable(v.picklist(['there', 'close', 'not-yet'])),
  lost: v.strictObject({ notes: finite, rhythm: finite, pulse: finite, continuity: finite }),
  verdicts: list(
    v.strictObject({
      kind: verdictKind,
      targetIndex: index,
      playedIndex: index,
      errorMs: v.nullable(finite),
      errorSemitones: v.nullable(finite),
      unclear: v.boolean(),
    }),
    10_000,
  ),
  timing: v.strictObject({
    biasMs: v.nullable(finite),
    unevennessMs: v.nullable(finite),
    driftPercent: v.nullable(finite),
    tempoRatio: finite,
  }),
  transposedBy: finite,
  readings: list(advice, 100),
  advice,
});
