import { db as decibels, sec } from '../../music/units.ts';
import { bandRise } from '../frames/bandRise.ts';
import { CLOSE, findAttack, WIDE } from '../onsets/attack.ts';
import { HOP, levelBetween, ms, prepare, WORK_RATE } from '../signal/prepared.ts';
import type { Prepared } from '../signal/prepared.ts';
import type { Strum } from '../../music/chords/heard.ts';

/**
 * Finds strokes over several strings.
 *
 * The first string can be timed, the last cannot: partials that beat look like attacks. So a strum is told as t₁, its first
 * string, and t₆, where it is within 6 dB of its full brightness; a player is late if t₁ is, and early if t₆ is, and a slow rake
 * around the click is neither. t₁ is the time that is shown.
 */

/**
 * Mean rise of six bands, dB: blind; and where a stroke is expected. Of 160 strums of the fit's instruments 98 % rise by 3.0 or
 * more at their first strings, a chord changed within 60 ms among them; elsewhere while they ring the most is 1.7.
 */
const RISE_DB = 2.4;
const EXPECTED_RISE_DB = 1.4;
/** Frames on either side among which a rise must be the greatest: 17 ms. */
const RADIUS = 6;
/**
 * Strings of one rake follow one another within so much, one that is not heard between them included: twice the 84 ms of the slowest
 * rakes. With 110 ms 13 of 85 raked strums fell in two, with 170 two.
 */
const RAKE_GAP_MS = 170;
/** And no rake lasts longer. */
const RAKE_MS = 420;
/** Before the steepest attack a weaker first string is looked for: so far back, on means so long, rising so much. */
const BACK_MS = 45;
const BACK_MEAN_MS = 4;
const BACK_DB = 5;
/** The same without differentiating, where hiss hides a dark first string: means over a low string's period. */
const DARK_MEAN_MS = 10;
const DARK_DB = 6;
/** Full brightness: within so much of the top of the differentiated signal's level, looked for over so long. */
const FULL_DB = 6;
const FULL_WITHIN_MS = 260;
const FULL_MEAN_MS = 8;
/** Under the take's loud part by this is no stroke. */
const RANGE_DB = 34;
/** The hand: so far under the strum's own level on 50 ms means. */
const DAMPED_DB = 22;
/** A take whose loud part lies under this, dBFS, holds nothing. */
const SILENCE_DB = -75;

export interface StrumOptions {
  /** Where strokes are expected, s: there a weaker rise is believed, within `withinSec`. */
  readonly expectedSec?: readonly number[];
  readonly withinSec?: number;
}

/** @param samples mono at the working rate @returns strums in order of time; none where nothing is struck */
export function findStrums(samples: Float32Array, options: StrumOptions = {}): Strum[] {
  const take = prepare(samples);
  if (20 * Math.log10(0.25 / take.gain) < SILENCE_DB) return [];
  const attacks = findRises(take, options);
  const groups: number[][] = [];
  for (const at of attacks) {
    const group = groups.at(-1);
    if (group && at - group.at(-1)! <= ms(RAKE_GAP_MS) && at - group[0]! <= ms(RAKE_MS)) group.push(at);
    else groups.push([at]);
  }
  return groups.map((group, g) =>
    strumAt(take, firstString(take, group[0]!), groups[g + 1]?.[0] ?? samples.length),
  );
}

/** Attacks, samples, rising. */
function findRises(take: Prepared, { expectedSec = [], withinSec = 0.2 }: StrumOptions): number[] {
  const { mean } = bandRise(take);
  const loud = 10 * Math.log10(0.25 ** 2);
  const found: number[] = [];
  for (let k = 0; k < mean.length; k++) {
    const rise = mean[k]!;
    const atSec = (k * HOP) / WORK_RATE;
    const expected = expectedSec.some((t) => Math.abs(t - atSec) <= withinSec);
    if (rise < (expected ? EXPECTED_RISE_DB : RISE_DB)) continue;
    let greatest = true;
    for (let j = Math.max(0, k - RADIUS); j <= Math.min(mean.length - 1, k + RADIUS) && greatest; j++)
      if (mean[j]! > rise || (mean[j] === rise && j < k)) greatest = false;
    if (!greatest) continue;
    if (levelBetween(take.energy, k * HOP, k * HOP + ms(100)) < loud - RANGE_DB) continue;
    const close = findAttack(take.edges, k * HOP, CLOSE);
    const wide = findAttack(take.edges, k * HOP, WIDE);
    const at = wide.steepDb > close.steepDb + 6 ? wide.at : close.at;
    if (at > (found.at(-1) ?? -1) + ms(4)) found.push(at);
  }
  return found;
}

/** Goes back from the steepest attack to where the level begins to stand over what was before: the earlier of two views. */
function firstString(take: Prepared, attack: number): number {
  return Math.min(
    beginning(take.edges, attack, ms(BACK_MEAN_MS), BACK_DB),
    beginning(take.energy, attack, ms(DARK_MEAN_MS), DARK_DB),
  );
}

function beginning(sums: Float64Array, attack: number, mean: number, rise: number): number {
  const level = (t: number): number => levelBetween(sums, t - mean, t);
  const from = Math.max(mean, attack - ms(BACK_MS));
  let least = Infinity;
  for (let t = from; t <= attack; t += mean / 2) least = Math.min(least, level(t));
  for (let t = attack; t > from; t -= ms(0.5)) if (level(t) <= least + rise) return t;
  return attack;
}

function strumAt(take: Prepared, first: number, next: number): Strum {
  const bright = (t: number): number => levelBetween(take.edges, t, t + ms(FULL_MEAN_MS));
  const end = Math.min(next, first + ms(FULL_WITHIN_MS));
  let top = -Infinity;
  for (let t = first; t < end; t += ms(1)) top = Math.max(top, bright(t));
  let full = first;
  while (full < end && bright(full) < top - FULL_DB) full += ms(1);
  const whole = (t: number): number => levelBetween(take.energy, t, t + ms(50));
  let own = -Infinity;
  for (let t = first; t < Math.min(next, first + ms(200)); t += ms(10)) own = Math.max(own, whole(t));
  let until = Math.min(next, first + ms(150));
  while (until < next && whole(until) > own - DAMPED_DB) until += ms(5);
  return {
    firstSec: sec(first / WORK_RATE),
    fullSec: sec(full / WORK_RATE),
    untilSec: sec(Math.min(until, next) / WORK_RATE),
    levelDb: decibels(levelBetween(take.energy, first, first + ms(100)) - 20 * Math.log10(take.gain)),
  };
}
