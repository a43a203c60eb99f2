import type { PitchRange } from '../note/range.ts';
import { ms } from '../signal/prepared.ts';
import { combScores, highestTooth } from './comb.ts';
import type { Around, Pieces } from './comb.ts';
import { growth } from './growth.ts';
import { frameFrom, frameUntil, LOWEST, PITCHES } from './salience.ts';
import type { PitchFrames } from './salience.ts';

/** The pitch skips the attack's noise, and no note needs more than 450 ms to be named. */
export const PITCH_FROM_MS = 12;
const PITCH_UNTIL_MS = 450;
/** Frames wait for this lag (samples at half rate) to lie inside the note: 13.9 ms, D2. */
const MIDDLE_LAG = 306;
/** Weight of the comb against the mean log salience. */
export const COMB = 6;
/**
 * Score for a dB by which a pitch's partials grew over the attack: of a string plucked while another rings it is
 * the new one that grows. Limits in dB; partials 26 dB under the strongest count as that strong (amplitude^½).
 * Together with {@link LEAP} 23 instead of 39 of 4493 development notes are misnamed.
 */
const GROWTH = 0.06;
const LEAST_GROWTH = -6;
const MOST_GROWTH = 12;
const GROWTH_FLOOR = 0.05;
/**
 * Score lost for each semitone, up to 24, by which a pitch lies from the nearest of its surely heard neighbours: lines
 * move by small steps, and errors by octaves and twelfths. Weak: an octave costs 0.6, while notes that are heard
 * rightly lead by 4 in the mean and 99 in 100 by more than 0.3.
 */
const LEAP = 0.05;
const LONGEST_LEAP = 24;
/** A neighbour whose own lead is less than this is not sure enough to lean on. */
const SURE = 1;
/** Keeps one bad frame from ruling a pitch out. */
export const LOG_FLOOR = 0.03;

/** What each part of a pitch's score counts; the ablation takes them out one by one. */
export interface PitchWeights {
  readonly comb: number;
  readonly growth: number;
  readonly leap: number;
}
export const PITCH_WEIGHTS: PitchWeights = { comb: COMB, growth: GROWTH, leap: LEAP };

export interface PitchAnswer {
  /** Whole MIDI number. */
  readonly midi: number;
  /** Mean gated salience at that pitch, 0…1. */
  readonly salience: number;
  /** The same before gating: low where nothing periodic sounds, whatever its harmonics. */
  readonly clarity: number;
  /** Score over the best pitch more than a semitone away, in range or not. */
  readonly margin: number;
  /** Score of the best pitch out of range over this one's; −Infinity where nothing is. */
  readonly beyond: number;
}

/** What {@link pitchScores} wants the spectra of; samples at the working rate. */
export function scoredPieces(at: number, until: number): Pieces {
  const length = Math.max(ms(30), Math.min(until - at - ms(10), ms(140)));
  return { before: [at - ms(4) - length, at - ms(4)], after: [at + ms(10), at + ms(10) + length] };
}

/** Score of every pitch for a note that sounds from `at` to `until` (samples at the working rate). */
export function pitchScores(
  pitch: PitchFrames,
  at: number,
  until: number,
  { before, after }: Around,
  weights = PITCH_WEIGHTS,
): Float64Array {
  const scores = new Float64Array(PITCHES);
  const [from, to] = framesOfNote(pitch, at, until);
  let total = 0;
  for (let j = from; j <= to; j++) {
    const weight = Math.sqrt(pitch.power[j]!) + 1e-6;
    total += weight;
    for (let n = 0; n < PITCHES; n++)
      scores[n] = scores[n]! + weight * Math.log(LOG_FLOOR + pitch.gated[j * PITCHES + n]!);
  }
  const floor = GROWTH_FLOOR * highestTooth(after) + 1e-4;
  const comb = combScores(after, new Float64Array(PITCHES));
  for (let n = 0; n < PITCHES; n++) {
    const grown = Math.max(LEAST_GROWTH, Math.min(MOST_GROWTH, growth(before, after, LOWEST + n, floor)));
    scores[n] = (total > 0 ? scores[n]! / total : 0) + weights.comb * comb[n]! + weights.growth * grown;
  }
  return scores;
}

/** First and last pitch frame inside a note; at least one where the signal has any. */
export function framesOfNote(pitch: PitchFrames, at: number, until: number): [number, number] {
  const last = pitch.frames - 1;
  const from = Math.min(last, Math.max(0, frameFrom(at + ms(PITCH_FROM_MS))));
  const end = Math.min(until, at + ms(PITCH_UNTIL_MS));
  return [from, Math.min(last, Math.max(from, frameUntil(end, MIDDLE_LAG)))];
}

/** The best pitch of those in range, with its salience over the note's frames. */
function answerFrom(
  scores: Float64Array,
  pitch: PitchFrames,
  at: number,
  until: number,
  { lowest, highest }: PitchRange,
): PitchAnswer {
  // A semitone more at either end: of an instrument out of tune it is the outermost note.
  const from = Math.max(0, lowest - 1 - LOWEST);
  const to = Math.min(PITCHES - 1, highest + 1 - LOWEST);
  let best = from;
  let beyond = -Infinity;
  for (let n = 0; n < PITCHES; n++)
    if (n < from || n > to) beyond = Math.max(beyond, scores[n]!);
    else if (scores[n]! > scores[best]!) best = n;
  let other = -Infinity;
  for (let n = 0; n < PITCHES; n++) if (Math.abs(n - best) > 1) other = Math.max(other, scores[n]!);
  return {
    beyond: beyond - scores[best]!,
    midi: LOWEST + best,
    salience: meanOver(pitch.gated, pitch, at, until, LOWEST + best),
    clarity: meanOver(pitch.raw, pitch, at, until, LOWEST + best),
    margin: scores[best]! - other,
  };
}

/** Answers for successive notes, each leaning a little towards the two heard before it and the two after. */
export function answersInLine(
  notes: readonly { readonly scores: Float64Array; readonly at: number; readonly until: number }[],
  pitch: PitchFrames,
  range: PitchRange,
  { leap: lean } = PITCH_WEIGHTS,
): PitchAnswer[] {
  const alone = notes.map(({ scores, at, until }) => answerFrom(scores, pitch, at, until, range));
  return notes.map(({ scores, at, until }, i) => {
    const near = [i - 2, i - 1, i + 1, i + 2].flatMap((k) => {
      const other = alone[k];
      return other && other.margin > SURE ? [other.midi] : [];
    });
    if (near.length === 0) return alone[i]!;
    const leaning = scores.map((score, n) => {
      const leap = near.reduce((least, midi) => Math.min(least, Math.abs(LOWEST + n - midi)), LONGEST_LEAP);
      return score - lean * leap;
    });
    return answerFrom(leaning, pitch, at, until, range);
  });
}

/** Amplitude-weighted mean of one pitch's salience over a note. */
function meanOver(
  salience: Float32Array,
  pitch: PitchFrames,
  at: number,
  until: number,
  midi: number,
): number {
  const [from, to] = framesOfNote(pitch, at, until);
  let sum = 0;
  let total = 0;
  for (let j = from; j <= to; j++) {
    const weight = Math.sqrt(pitch.power[j]!) + 1e-6;
    sum += weight * salience[j * PITCHES + (midi - LOWEST)]!;
    total += weight;
  }
  return total > 0 ? sum / total : 0;
}
