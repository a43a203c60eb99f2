import type { Channel } from './types.ts';

/**
 * The small parts that a student's playing is taken apart into. Pitch parts are asked of each note of a
 * melody ("was it the right note?"), time parts of each note of either kind ("was it there, in time?").
 * Words for them stand in `ui/messages.ts` under these ids. New parts go at the end, and
 * `DIGEST_VERSION` is raised: saved digests hold the place of a part in its list.
 */
export const PITCH_PARTS = [
  'repeat', // the same note again
  'step-up', // 1–2 semitones
  'step-down',
  'third-up', // 3–4
  'third-down',
  'fourth-up', // 5–6: a fourth, and the tritone with it
  'fourth-down',
  'fifth-up', // 7
  'fifth-down',
  'wide-up', // 8 and more
  'wide-down',
  'degree-1', // counted against the major scale's letters: the minor third is a degree 3
  'degree-2',
  'degree-3',
  'degree-4',
  'degree-5',
  'degree-6',
  'degree-7',
  'chromatic', // not of the test's scale
  'turn', // the line changes direction here after a leap of a fourth or more
  'opening', // the first quarter of the phrase's notes, the given first note apart
  'ending', // its last two notes
] as const;

export const TIME_PARTS = [
  'on-beat',
  'off-beat', // the half of a beat
  'quarter-beat', // a semiquaver that lies on neither
  'triplet', // a third of a beat that is not compound
  'crotchet-gap', // a beat or more since the note before
  'quaver-gap', // half a beat to under one
  'short-gap', // less than half
  'after-rest', // silence before it
  'after-dot', // the note before lasted three halves or three quarters of a beat
  'over-beat', // the note before was held across a beat
  'slow', // under 76 quarter notes a minute
  'medium',
  'fast', // 108 and more
  'first-bar',
  'later-bars',
  'compound', // beats of three (6/8, 12/8)
  'odd-metre', // 5 or 7 beats, or a mixed grouping
] as const;

export type PitchPart = (typeof PITCH_PARTS)[number];
export type TimePart = (typeof TIME_PARTS)[number];
export type PartId = PitchPart | TimePart;

/** Raise when parts or their rules change; the store then makes its digests anew. */
export const DIGEST_VERSION = 3;

export const partsOf = (channel: Channel): readonly PartId[] =>
  channel === 'pitch' ? PITCH_PARTS : TIME_PARTS;
