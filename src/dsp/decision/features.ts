import type { BandRise } from '../frames/bandRise.ts';
import { RISE_BANDS } from '../frames/bandRise.ts';
import type { Attack } from '../onsets/attack.ts';
import type { Candidate } from '../onsets/candidates.ts';
import type { Spectra } from '../pitch/comb.ts';
import { growth } from '../pitch/growth.ts';
import { frameCentre, LOWEST, PITCHES } from '../pitch/salience.ts';
import type { PitchFrames } from '../pitch/salience.ts';
import { HOP, levelBetween, ms } from '../signal/prepared.ts';
import type { Prepared } from '../signal/prepared.ts';
import type { Continuity } from './continuity.ts';

/** What is known of a candidate when it is decided whether a string was plucked; decibels over ten. */
export const FEATURES = [
  'logO',
  'logS',
  'logR',
  'hf',
  'mf',
  'lf',
  'gain50',
  'gain10',
  'per',
  'pchg',
  'level',
  'disc',
  'steep',
  'nextdom',
  'sustain',
  'quiet',
  'brk',
  'cont',
  'shift',
  'before',
  'after',
  'dip',
  'grow',
] as const;
export type FeatureName = (typeof FEATURES)[number];

export interface FeatureSources {
  readonly take: Prepared;
  /** Combined onset strength of every frame. */
  readonly strength: Float32Array;
  readonly rise: BandRise;
  readonly pitch: PitchFrames;
  readonly continuity: Continuity;
  readonly spectra: Spectra;
  /** Level of the take's loud notes, dB: 98th percentile of 50 ms levels of its sounding part. */
  readonly loudDb: number;
}

/** The features of one candidate, in the order of {@link FEATURES}. */
export function features(from: FeatureSources, candidate: Candidate, attack: Attack): Float64Array {
  const { take, rise, pitch } = from;
  const t = attack.at;
  const level = (a: number, b: number): number => levelBetween(take.energy, t + ms(a), t + ms(b));
  const bands = (low: number, high: number): number => {
    let sum = 0;
    for (let b = low; b < high; b++) sum += rise.bands[candidate.frame * RISE_BANDS + b]!;
    return sum / (high - low) / 10;
  };
  const now = level(4, 50);
  const gain50 = now - level(-50, -6);
  const later = Math.max(level(30, 60), level(60, 90), level(90, 130));
  const start = Math.max(level(1, 12), level(12, 25));
  const nextdom = (later - start) / 10;
  const sustain = (level(25, 60) - start) / 10;
  const { per, change, best } = periodicity(pitch, t);
  const { disc, brk } = from.continuity.at(t);
  const relative = now - from.loudDb;
  const soft = (x: number): number => Math.max(0, x);
  const cont = soft(1 - brk / 0.35) * soft(1 - change / 0.35) * Math.min(1, Math.max(0, 1 - gain50 / 4));
  return Float64Array.of(
    Math.log(candidate.strength + 0.001),
    Math.log(candidate.flux + 0.001),
    Math.log(rise.mean[candidate.frame]! + 0.3),
    bands(4, 6),
    bands(2, 4),
    bands(0, 3),
    gain50 / 10,
    (now - level(-12, -2)) / 10,
    per,
    change,
    relative / 10,
    disc,
    attack.steepDb / 10,
    nextdom,
    sustain,
    Math.max(0, -25 - relative) / 10,
    brk,
    cont,
    (t - candidate.frame * HOP) / ms(10),
    Math.log((strongest(from.strength, candidate.frame, -21, -4) + 0.02) / (candidate.strength + 0.02)),
    Math.log((strongest(from.strength, candidate.frame, 4, 21) + 0.02) / (candidate.strength + 0.02)),
    dip(pitch, t),
    grow(from, t, LOWEST + best),
  );
}

/** How much the partials of the pitch heard afterwards grew from the 56 ms before to the 56 ms after, dB over ten. */
function grow({ take, spectra }: FeatureSources, t: number, midi: number): number {
  const before = Float64Array.from(spectra.rooted(take.samples, t - ms(60), t - ms(4)));
  return growth(before, spectra.rooted(take.samples, t + ms(8), t + ms(64)), midi) / 10;
}

/** The greatest strength from so many to so many frames away: 12 to 61 ms. */
function strongest(strength: Float32Array, frame: number, from: number, to: number): number {
  let top = 0;
  for (let k = Math.max(0, frame + from); k <= Math.min(strength.length - 1, frame + to); k++)
    top = Math.max(top, strength[k]!);
  return top;
}

/**
 * How much less periodic the sound is across the attack than before and after it: a re-plucked string's wave
 * begins anew, and no window that straddles the break repeats.
 */
function dip(pitch: PitchFrames, t: number): number {
  const best = (from: number, to: number, start: number): number => {
    let value = start;
    for (let j = frameNear(pitch, t + ms(from)); j <= frameNear(pitch, t + ms(to)); j++)
      value = start > 0 ? Math.min(value, pitch.best[j]!) : Math.max(value, pitch.best[j]!);
    return value;
  };
  if (pitch.frames === 0) return 0;
  return Math.min(best(-60, -15, 0), best(15, 60, 0)) - best(-15, 15, 1);
}

/** Mean best gated salience 20–75 ms after, 1 − cosine of the salience sums before and after, and the best pitch after. */
function periodicity(pitch: PitchFrames, t: number): { per: number; change: number; best: number } {
  const after = new Float64Array(PITCHES);
  const before = new Float64Array(PITCHES);
  let best = 0;
  let count = 0;
  for (let j = frameNear(pitch, t + ms(20)); j <= frameNear(pitch, t + ms(75)); j++) {
    let top = 0;
    for (let n = 0; n < PITCHES; n++) {
      const v = pitch.gated[j * PITCHES + n]!;
      after[n] = after[n]! + v;
      if (v > top) top = v;
    }
    best += top;
    count++;
  }
  for (let j = frameNear(pitch, t - ms(75)); j <= frameNear(pitch, t - ms(25)); j++)
    for (let n = 0; n < PITCHES; n++) before[n] = before[n]! + pitch.gated[j * PITCHES + n]!;
  let dot = 0;
  let a = 0;
  let b = 0;
  for (let n = 0; n < PITCHES; n++) {
    dot += after[n]! * before[n]!;
    a += after[n]! ** 2;
    b += before[n]! ** 2;
  }
  return {
    per: count > 0 ? best / count : 0,
    change: 1 - dot / Math.sqrt(a * b + 1e-12),
    best: after.indexOf(Math.max(...after)),
  };
}

function frameNear(pitch: PitchFrames, at: number): number {
  const j = Math.round((at - frameCentre(0)) / (2 * HOP));
  return Math.min(pitch.frames - 1, Math.max(0, j));
}
