import * as v from 'valibot';
import { between, instrument, list, text, whole } from './parts.ts';

/** Strict schema of `PracticeTest` (score.ts), version 1. */
const ticks = (low: number) => whole(low, 1e7);
const midi = whole(0, 127);

const note = v.strictObject({
  startTicks: ticks(0),
  durationTicks: ticks(1),
  midi,
  spelling: v.pipe(v.string(), v.regex(/^[A-G](#{1,2}|b{1,2})?-?\d$/)),
  string: whole(1, 12),
  fret: whole(0, 36),
});

const metre = v.pipe(
  v.strictObject({
    beats: whole(1, 32),
    beatUnit: v.picklist([2, 4, 8, 16]),
    grouping: list(whole(1, 32), 32),
  }),
  v.check(
    (m) => m.grouping.reduce((sum, group) => sum + group, 0) === m.beats,
    'grouping must add up to beats',
  ),
);

/** 500 notes is ten times the longest phrase the app lets through (16 bars). */
const phrase = v.pipe(
  v.strictObject({ metre, bars: whole(1, 64), notes: list(note, 500) }),
  v.check(
    ({ notes }) =>
      notes.every(
        (n, i) => i === 0 || notes[i - 1]!.startTicks + notes[i - 1]!.durationTicks <= n.startTicks,
      ),
    'notes must be in order and must not overlap',
  ),
);

export const practiceTest = v.pipe(
  v.strictObject({
    version: v.literal(1),
    kind: v.picklist(['melody', 'rhythm']),
    instrument,
    tuning: list(midi, 12),
    level: v.nullable(whole(1, 10)),
    seed: v.nullable(whole(0, 2 ** 32 - 1)),
    tempoBpm: between(10, 400),
    key: v.strictObject({ tonic: v.pipe(v.string(), v.regex(/^[A-G](#|b)?$/)), scale: text(60) }),
    swing: between(0.5, 0.8),
    style: text(60),
    phrase,
    question: v.nullable(v.strictObject({ other: phrase, answer: v.picklist(['A', 'B']) })),
    procedure: v.strictObject({ hearings: whole(0, 100), practiceSec: between(0, 3600) }),
  }),
  v.check((test) => test.phrase.notes.length > 0, 'a test has at least one note'),
);
