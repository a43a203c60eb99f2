import * as v from 'valibot';
import type { TakenAnswer, TakenStrum } from '../chords/taken.ts';
import type { Heard, HeardNote, HeardTake } from '../notes.ts';
import { LIMITS } from './limits.ts';
import { list, measure, number, whole } from './parts.ts';

/** Why a take is marked with caution or not at all: the words of `HeardReason`. */
export const HEARD_REASONS = [
  'silence',
  'too-quiet',
  'clipped',
  'no-stream',
  'not-an-instrument',
  'backing-only',
  'backing-too-loud',
  'unclear',
] as const;

const takeSec = number(LIMITS.takeSec);
const pitchClasses = list(whole([0, 11]), [0, 12]);

/** Strict schema of `HeardTake`. */
export const heardTake = v.strictObject({
  notes: list(
    v.strictObject({
      onsetSec: takeSec,
      offsetSec: takeSec,
      midi: number(LIMITS.midi),
      cents: number([-100, 100]),
      levelDb: number([-400, 100]),
      confidence: number([0, 1]),
    }),
    [0, LIMITS.takeNotes],
  ),
  tuningCents: number([-100, 100]),
  heard: v.strictObject({
    verdict: v.picklist(['ok', 'caution', 'refused']),
    reason: v.nullable(v.picklist(HEARD_REASONS)),
    delayMs: v.optional(v.nullable(measure)),
    driftPpm: v.optional(v.nullable(measure)),
    cancellationDb: v.optional(v.nullable(measure)),
  }),
  strums: v.exactOptional(
    list(
      v.strictObject({
        firstSec: takeSec,
        fullSec: takeSec,
        untilSec: v.exactOptional(takeSec),
        answers: list(
          v.strictObject({
            asked: whole([0, LIMITS.notes[1]]),
            verdict: v.picklist(['yes', 'no', 'cannot-tell']),
            doubt: v.nullable(v.picklist(['out-of-tune', 'too-short', 'too-quiet', 'not-a-chord', 'close'])),
            missing: pitchClasses,
            foreign: pitchClasses,
            lowerNote: v.nullable(whole(LIMITS.midi)),
          }),
          [0, LIMITS.notes[1]],
        ),
      }),
      [0, LIMITS.takeNotes],
    ),
  ),
});

/** Fails to compile when a contract gains a key that its schema would refuse: such a take could not be kept. */
export type Covers<Contract, Schema> = Exclude<keyof Contract, keyof Schema> extends never ? true : never;
type Take = v.InferInput<typeof heardTake>;
type Strum = NonNullable<Take['strums']>[number];
export const TAKE_COVERED: readonly [
  Covers<HeardTake, Take>,
  Covers<HeardNote, Take['notes'][number]>,
  Covers<Heard, Take['heard']>,
  Covers<TakenStrum, Strum>,
  Covers<TakenAnswer, Strum['answers'][number]>,
] = [true, true, true, true, true];
