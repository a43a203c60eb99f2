import type { Continuity } from '../decision/continuity.ts';
import { frameCentre, PITCHES, type PitchFrames } from '../pitch/salience.ts';
import { HOP, levelBetween, ms, WORK_RATE, type Prepared } from '../signal/prepared.ts';
import { BLEED_RATE } from './align.ts';
import type { Flux } from './awareFlux.ts';
import { BINS, FRAME_HOP, type Expected } from './expected.ts';
import type { OverPossible } from './overCandidates.ts';

/** What a decision over a backing looks at; decibels over ten, fluxes as logarithms. */
export const OVER_FEATURES = [
  'aware',
  'aware20',
  'low',
  'middle',
  'high',
  'before',
  'after',
  'backing',
  'share',
  'shareBefore',
  'shift',
  'steep',
  'gain50',
  'gain10',
  'clear50',
  'clear10',
  'level',
  'later',
  'sustain',
  'per',
  'change',
  'dip',
  'disc',
  'brk',
] as const;

/** Keeps the logarithm from following a flux that is nothing. */
const LEAST_FLUX = 0.02;
/** 70 Hz to 11 kHz: what small loudspeakers sound and guitars have. */
const LOW_BIN = 3;
const HIGH_BIN = 470;

export interface OverSources {
  readonly expected: Expected;
  readonly flux: Flux;
  readonly backing: Flux;
  /** What is left in the bands in which the player outweighs the leftovers. */
  readonly clear: Prepared;
  /** The masked take, its pitch and how its wave goes on. */
  readonly masked: Prepared;
  readonly pitch: PitchFrames;
  readonly continuity: Continuity;
  /** As {@link loudDb} measures it. */
  readonly loudDb: number;
}

const frameOf = (sec: number): number => Math.round((sec * BLEED_RATE) / FRAME_HOP);

/** The greatest value between two instants, seconds. */
function highest(values: Float32Array, fromSec: number, toSec: number): number {
  let top = 0;
  const last = Math.min(values.length - 1, frameOf(toSec));
  for (let k = Math.max(0, frameOf(fromSec)); k <= last; k++) top = Math.max(top, values[k]!);
  return top;
}

/** Expected leftovers over what is there between two instants, dB / 10: 0 = all of it is leftovers. */
function share({ left, leftover }: Expected, fromSec: number, toSec: number): number {
  let e = 0;
  let r = 0;
  const last = Math.min(left.frames - 1, frameOf(toSec));
  for (let k = Math.max(0, frameOf(fromSec)); k <= last; k++)
    for (let b = LOW_BIN; b < HIGH_BIN; b++) {
      e += left.power[k * BINS + b]!;
      r += leftover.power[k * BINS + b]!;
    }
  return Math.log10((r + 1e-12) / (e + 1e-12));
}

/** Best salience 20–75 ms after, 1 − cosine of the salience before and after, and how it dips between. */
function pitchAround(pitch: PitchFrames, t: number): { per: number; change: number; dip: number } {
  const frame = (at: number): number =>
    Math.min(pitch.frames - 1, Math.max(0, Math.round((at - frameCentre(0)) / (2 * HOP))));
  if (pitch.frames === 0) return { per: 0, change: 0, dip: 0 };
  const sums = (from: number, to: number): { sum: Float64Array; best: number } => {
    const sum = new Float64Array(PITCHES);
    let best = 0;
    const [first, last] = [frame(t + ms(from)), frame(t + ms(to))];
    for (let j = first; j <= last; j++) {
      let top = 0;
      for (let n = 0; n < PITCHES; n++) {
        const v = pitch.gated[j * PITCHES + n]!;
        sum[n]! += v;
        top = Math.max(top, v);
      }
      best += top / (last - first + 1);
    }
    return { sum, best };
  };
  const after = sums(20, 75);
  const before = sums(-75, -25);
  const across = sums(-15, 15);
  const dot = (a: Float64Array, b: Float64Array): number => a.reduce((s, v, n) => s + v * b[n]!, 0);
  const scale = Math.sqrt(dot(after.sum, after.sum) * dot(before.sum, before.sum) + 1e-12);
  return {
    per: after.best,
    change: 1 - dot(after.sum, before.sum) / scale,
    dip: Math.min(after.best, before.best) - across.best,
  };
}

/** 98th percentile of 50 ms levels, dB: how loud this take's notes are. */
export function loudDb(take: Prepared): number {
  const levels: number[] = [];
  for (let t = 0; t + ms(50) <= take.samples.length; t += ms(10))
    levels.push(levelBetween(take.energy, t, t + ms(50)));
  levels.sort((a, b) => a - b);
  return levels[Math.floor(0.98 * (levels.length - 1))] ?? 0;
}

/** Gives the features of a candidate, in the order of {@link OVER_FEATURES}. */
export function overFeatures(from: OverSources): (of: OverPossible) => Float64Array {
  const { expected, flux, backing, clear, masked, pitch, loudDb: loud } = from;
  const log = (v: number): number => Math.log(v + LEAST_FLUX);
  return ({ frame, attack }) => {
    const t = attack.at;
    const at = t / WORK_RATE;
    const between = (energy: Float64Array, a: number, b: number): number =>
      levelBetween(energy, t + ms(a), t + ms(b));
    const level = (a: number, b: number): number => between(masked.energy, a, b);
    const now = level(4, 50);
    const start = Math.max(level(1, 12), level(12, 25));
    const aware = highest(flux.all, at - 0.016, at + 0.037);
    const { per, change, dip } = pitchAround(pitch, t);
    const { disc, brk } = from.continuity.at(t);
    return Float64Array.of(
      log(aware),
      log(highest(flux.all, at, at + 0.02)),
      log(highest(flux.low, at - 0.016, at + 0.037)),
      log(highest(flux.middle, at - 0.016, at + 0.037)),
      log(highest(flux.high, at - 0.016, at + 0.037)),
      log(highest(flux.all, at - 0.07, at - 0.021)) - log(aware),
      log(highest(flux.all, at + 0.042, at + 0.09)) - log(aware),
      log(highest(backing.all, at - 0.016, at + 0.037)),
      share(expected, at, at + 0.055),
      share(expected, at - 0.08, at - 0.025),
      (at - (frame * FRAME_HOP) / BLEED_RATE) * 100,
      attack.steepDb / 10,
      (now - level(-50, -6)) / 10,
      (now - level(-12, -2)) / 10,
      (between(clear.energy, 4, 50) - between(clear.energy, -50, -6)) / 10,
      (between(clear.energy, 4, 50) - between(clear.energy, -12, -2)) / 10,
      (now - loud) / 10,
      (Math.max(level(30, 60), level(60, 90), level(90, 130)) - start) / 10,
      (level(25, 60) - start) / 10,
      per,
      change,
      dip,
      disc,
      brk,
    );
  };
}
