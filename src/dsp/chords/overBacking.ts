import { upperMedian } from '../../music/numbers.ts';
import { sec } from '../../music/units.ts';
import { cancelBacking } from '../bleed/cancel.ts';
import { isHeard, LEAD_SEC } from '../bleed/hearOver.ts';
import { toWorkRate } from '../hear/toWorkRate.ts';
import { WORK_RATE } from '../signal/prepared.ts';
import { checkStream } from '../verdict/stream.ts';
import { hearStrums } from './hearStrums.ts';
import { prepareHeard } from './judge.ts';
import type { Strum } from '../../music/chords/heard.ts';
import type { HeardStrum } from './heardStrum.ts';
import { findStrums } from './strums.ts';
import type { StrumOptions } from './strums.ts';

export interface StrumsOverOptions extends StrumOptions {
  /** What went to the loudspeaker over the span of the recording, mono, same rate and counter. */
  readonly reference: Float32Array;
  /** The take starts here in the recording, s; what lies before is learnt from. */
  readonly fromSec: number;
  /** Strokes come as the player likes: what is likely left of the backing is none of them. */
  readonly free?: boolean;
}

/**
 * A stroke so far under the take's own strokes and so far under what the backing had at its attack is likely left of the backing.
 * Where nobody played, strokes that were found lay −12.8 dB and less under the player's; of the backing −15 to −21 dB was left at
 * 0 dB, −4 to −14 dB at −10 dB, where less of it is known. The player's lay at −5 dB or over (simulated rooms).
 */
const SOFT_DB = -12;
const LEFT_DB = -4;
/** Both are compared over the strum's own level, s. */
const ATTACK_SEC = 0.1;

function withoutLeftovers(strums: readonly Strum[], bleed: Float32Array): Strum[] {
  const usual = upperMedian(strums.map(({ levelDb }) => levelDb));
  return strums.filter(({ firstSec, levelDb }) => {
    const from = Math.round(firstSec * WORK_RATE);
    const span = bleed.subarray(from, from + Math.round(ATTACK_SEC * WORK_RATE));
    const power = span.reduce((sum, x) => sum + x * x, 0) / Math.max(1, span.length);
    const leftDb = levelDb - 10 * Math.log10(Math.max(1e-12, power));
    return leftDb > LEFT_DB || levelDb - usual > SOFT_DB;
  });
}

export interface StrumsOver {
  readonly strums: readonly HeardStrum[];
  /** Loudspeaker to microphone and through the machine; null where no backing was found in the recording. */
  readonly delayMs: number | null;
}

/**
 * As {@link hearStrums}, of a take that a loudspeaker played into: the backing is taken out first, and what may be left of it is
 * kept beside each strum, so that a note that could be the backing's is not held against the player.
 *
 * @returns strums from `fromSec` on, times counted from the recording's first sample
 * @throws RangeError for a rate or a `fromSec` out of range
 */
export function hearStrumsOver(
  recording: Float32Array,
  sampleRate: number,
  { reference, fromSec, expectedSec = [], free = false, ...options }: StrumsOverOptions,
): StrumsOver {
  const { clean } = checkStream(recording, sampleRate);
  const start = Math.max(0, Math.round((fromSec - LEAD_SEC) * sampleRate));
  const startSec = start / sampleRate;
  const there = { ...options, expectedSec: expectedSec.map((t) => t - startSec) };
  const cancelled = cancelBacking(clean, checkStream(reference, sampleRate).clean, sampleRate, startSec);
  const moved = (strum: HeardStrum): HeardStrum => ({
    ...strum,
    firstSec: sec(strum.firstSec + startSec),
    fullSec: sec(strum.fullSec + startSec),
    untilSec: sec(strum.untilSec + startSec),
  });
  if (!cancelled || !isHeard(cancelled))
    return { strums: hearStrums(clean.subarray(start), sampleRate, there).map(moved), delayMs: null };
  const left = toWorkRate(Float32Array.from(cancelled.left), cancelled.rate);
  const bleed = toWorkRate(Float32Array.from(cancelled.bleed), cancelled.rate);
  const found = findStrums(left, there);
  const strums = free ? withoutLeftovers(found, bleed) : found;
  return {
    strums: strums.map((strum) => moved(prepareHeard(left, strum, bleed))),
    delayMs: cancelled.delayMs,
  };
}
