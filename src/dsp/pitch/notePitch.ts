import { ms } from '../signal/prepared.ts';
import type { Prepared } from '../signal/prepared.ts';
import { combScores } from './comb.ts';
import type { Spectra } from './comb.ts';
import { frameFrom, frameUntil, LOWEST, PITCHES } from './salience.ts';
import type { PitchFrames } from './salience.ts';

/** The pitch skips the attack's noise, and no note needs more than 450 ms to be named. */
export const PITCH_FROM_MS = 12;
const PITCH_UNTIL_MS = 450;
/** Frames wait for this lag (samples at half rate) to lie inside the note: 13.9 ms, D2. */
const MIDDLE_LAG = 306;
/** Weight of the comb against the mean log salience. */
export const COMB = 6;
/** Keeps one bad frame from ruling a pitch out. */
export const LOG_FLOOR = 0.03;

export interface PitchAnswer {
  /** Whole MIDI number. */
  readonly midi: number;
  /** Mean gated salience at that pitch, 0…1. */
  readonly salience: number;
  /** Score over the best pitch more than a semitone away: > 0. */
  readonly margin: number;
}

/** Score of every pitch for a note that sounds from `at` to `until` (samples at the working rate). */
export function pitchScores(
  take: Prepared,
  pitch: PitchFrames,
  at: number,
  until: number,
  spectra: Spectra,
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
  const end = Math.max(at + ms(40), Math.min(until, at + ms(150)));
  const comb = combScores(spectra.rooted(take.samples, at + ms(10), end), new Float64Array(PITCHES));
  for (let n = 0; n < PITCHES; n++) scores[n] = (total > 0 ? scores[n]! / total : 0) + COMB * comb[n]!;
  return scores;
}

/** First and last pitch frame inside a note; at least one where the signal has any. */
export function framesOfNote(pitch: PitchFrames, at: number, until: number): [number, number] {
  const last = pitch.frames - 1;
  const from = Math.min(last, Math.max(0, frameFrom(at + ms(PITCH_FROM_MS))));
  const end = Math.min(until, at + ms(PITCH_UNTIL_MS));
  return [from, Math.min(last, Math.max(from, frameUntil(end, MIDDLE_LAG)))];
}

/** The best pitch among scores, with its salience over the note's frames. */
export function answerFrom(scores: Float64Array, pitch: PitchFrames, at: number, until: number): PitchAnswer {
  let best = 0;
  for (let n = 1; n < PITCHES; n++) if (scores[n]! > scores[best]!) best = n;
  let other = -Infinity;
  for (let n = 0; n < PITCHES; n++) if (Math.abs(n - best) > 1) other = Math.max(other, scores[n]!);
  return {
    midi: LOWEST + best,
    salience: meanSalience(pitch, at, until, LOWEST + best),
    margin: scores[best]! - other,
  };
}

/** Amplitude-weighted mean of the gated salience of one pitch over a note. */
export function meanSalience(pitch: PitchFrames, at: number, until: number, midi: number): number {
  const [from, to] = framesOfNote(pitch, at, until);
  let sum = 0;
  let total = 0;
  for (let j = from; j <= to; j++) {
    const weight = Math.sqrt(pitch.power[j]!) + 1e-6;
    sum += weight * pitch.gated[j * PITCHES + (midi - LOWEST)]!;
    total += weight;
  }
  return total > 0 ? sum / total : 0;
}
