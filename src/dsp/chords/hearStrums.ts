import { toWorkRate } from '../hear/toWorkRate.ts';
import { findStrums } from './strums.ts';
import type { StrumOptions } from './strums.ts';
import { prepareHeard } from './judge.ts';
import type { HeardStrum } from './heardStrum.ts';

/**
 * Hears the strums of a take, whatever was asked for.
 *
 * @param signal mono, finite @param sampleRate 8000 to 192000 Hz
 * @returns strums in order of time, ready for `judgeStrum`; none where nothing was struck
 * @throws RangeError for a rate out of range
 */
export function hearStrums(
  signal: Float32Array,
  sampleRate: number,
  options: StrumOptions = {},
): HeardStrum[] {
  const samples = toWorkRate(signal, sampleRate);
  return findStrums(samples, options).map((strum) => prepareHeard(samples, strum));
}
