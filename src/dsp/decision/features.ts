import type { BandRise } from '../frames/bandRise.ts';
import { RISE_BANDS } from '../frames/bandRise.ts';
import type { Attack } from '../onsets/attack.ts';
import type { Candidate } from '../onsets/candidates.ts';
import type { Around } from '../pitch/comb.ts';
import type { PitchFrames } from '../pitch/salience.ts';
import { HOP, ms } from '../signal/prepared.ts';
import type { Prepared } from '../signal/prepared.ts';
import type { Continuity } from './continuity.ts';
import { levels, LEVELS } from './levels.ts';
import type { Loud } from './levels.ts';
import { PARTIAL_GROWTH, partialGrowth } from './partials.ts';
import { PERIODICITY, periodicity } from './periodicity.ts';
import { RENEWAL, renewal } from './renewal.ts';

/** What is known of a candidate by itself when it is decided whether a string was plucked. */
export const FEATURES = [
  'logO',
  'logS',
  'rank',
  'logR',
  'rise0',
  'rise1',
  'rise2',
  'rise3',
  'rise4',
  'rise5',
  'shift',
  'steep',
  'strongBefore',
  'strongAfter',
  'disc',
  'brk',
  'cont',
  ...LEVELS,
  ...PERIODICITY,
  ...PARTIAL_GROWTH,
  ...RENEWAL,
] as const;
export type FeatureName = (typeof FEATURES)[number];

export interface FeatureSources {
  readonly take: Prepared;
  /** Combined onset strength of every frame. */
  readonly strength: Float32Array;
  /** Median strength of the take's strong candidates. */
  readonly usualStrength: number;
  readonly rise: BandRise;
  readonly pitch: PitchFrames;
  readonly continuity: Continuity;
  readonly loud: Loud;
}

/** The features of one candidate, in the order of {@link FEATURES}. @param spectra of {@link growthPieces} */
export function features(
  from: FeatureSources,
  candidate: Candidate,
  attack: Attack,
  spectra: Around,
): Float64Array {
  const { take, rise, pitch, strength } = from;
  const { frame } = candidate;
  const t = attack.at;
  const around = levels(take, t, from.loud);
  const periodic = periodicity(pitch, t);
  const { disc, brk } = from.continuity.at(t);
  const soft = (x: number): number => Math.max(0, x);
  const held = Math.min(1, soft(1 - (10 * around[0]!) / 4));
  const against = (value: number): number => Math.log((value + 0.02) / (candidate.strength + 0.02));
  return Float64Array.of(
    Math.log(candidate.strength + 0.001),
    Math.log(candidate.flux + 0.001),
    Math.log((candidate.strength + 0.001) / from.usualStrength),
    Math.log(rise.mean[frame]! + 0.3),
    ...Array.from({ length: RISE_BANDS }, (_, b) => rise.bands[frame * RISE_BANDS + b]! / 10),
    (t - frame * HOP) / ms(10),
    attack.steepDb / 10,
    against(strongest(strength, frame, -21, -4)),
    against(strongest(strength, frame, 4, 21)),
    disc,
    brk,
    soft(1 - brk / 0.35) * soft(1 - periodic.change / 0.35) * held,
    ...around,
    ...periodic.values,
    ...partialGrowth(spectra, periodic.before, periodic.after),
    ...renewal(take, t, periodic.before, periodic.after),
  );
}

/** The greatest strength from so many to so many frames away: 12 to 61 ms. */
function strongest(strength: Float32Array, frame: number, from: number, to: number): number {
  let top = 0;
  for (let k = Math.max(0, frame + from); k <= Math.min(strength.length - 1, frame + to); k++)
    top = Math.max(top, strength[k]!);
  return top;
}
