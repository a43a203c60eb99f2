import * as v from 'valibot';
import type { Heard, HeardNote } from '../../music/notes.ts';
import type { Mark, NoteVerdict } from '../../tests-engine/marks/types.ts';
import { between, list, text, whole } from './parts.ts';

/** A take lasts minutes; an hour before or after beat 1 is no place in it. */
const takeSec = between(-3600, 3600);
/** Anything measured in ms, ppm, dB, percent or semitones here lies far inside. */
const measure = between(-1e6, 1e6);

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
      onsetSec: takeSec,
      offsetSec: takeSec,
      midi: between(0, 127),
      cents: between(-100, 100),
      levelDb: between(-400, 100),
      confidence: between(0, 1),
    }),
    5000,
  ),
  tuningCents: between(-100, 100),
  heard: v.strictObject({
    verdict: v.picklist(['ok', 'caution', 'refused']),
    reason: v.nullable(v.picklist(REASONS)),
    delayMs: v.optional(v.nullable(measure)),
    driftPpm: v.optional(v.nullable(measure)),
    cancellationDb: v.optional(v.nullable(measure)),
  }),
});

export const verdictKind = v.picklist(['right', 'wrong', 'early', 'late', 'missed', 'extra']);
const index = v.nullable(whole(0, 5000));
const points = between(0, 100);
const advice = v.strictObject({
  code: text(100),
  values: v.record(text(100), v.union([measure, text(200)])),
});

export const mark = v.strictObject({
  version: whole(1, 1e6),
  mark: v.nullable(points),
  reason: v.nullable(v.picklist([...REASONS, 'no-target', 'nothing-played'])),
  range: v.nullable(v.strictTuple([points, points])),
  outcome: v.nullable(v.picklist(['there', 'close', 'not-yet'])),
  lost: v.strictObject({ notes: points, rhythm: points, pulse: points, continuity: points }),
  verdicts: list(
    v.strictObject({
      kind: verdictKind,
      targetIndex: index,
      playedIndex: index,
      errorMs: v.nullable(measure),
      errorSemitones: v.nullable(between(-200, 200)),
      unclear: v.boolean(),
      inStep: v.optional(v.boolean()),
      repeated: v.optional(v.boolean()),
    }),
    10_000,
  ),
  timing: v.strictObject({
    biasMs: v.nullable(measure),
    unevennessMs: v.nullable(measure),
    driftPercent: v.nullable(measure),
    tempoRatio: between(0, 1000),
  }),
  transposedBy: between(-200, 200),
  readings: list(advice, 100),
  advice,
});

/** Fails to compile when a contract gains a key that the schema would refuse: such an attempt could not be kept. */
type Covers<Contract, Schema> = Exclude<keyof Contract, keyof Schema> extends never ? true : never;
type Take = v.InferInput<typeof heardTake>;
type Marked = v.InferInput<typeof mark>;
export const COVERED: readonly [
  Covers<HeardNote, Take['notes'][number]>,
  Covers<Heard, Take['heard']>,
  Covers<NoteVerdict, Marked['verdicts'][number]>,
  Covers<Mark, Marked>,
] = [true, true, true, true];
