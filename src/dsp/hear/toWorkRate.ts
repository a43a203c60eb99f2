import { WORK_RATE } from '../signal/prepared.ts';
import { resampledWhole } from '../signal/resampleWhole.ts';

/** The whole signal at {@link WORK_RATE}. @throws RangeError unless 8000 ≤ sampleRate ≤ 192000 */
export function toWorkRate(signal: Float32Array, sampleRate: number): Float32Array {
  if (!(sampleRate >= 8000 && sampleRate <= 192_000))
    throw new RangeError(`sample rate must be 8000 to 192000 Hz, got ${sampleRate}`);
  const rate = Math.round(sampleRate);
  return rate === WORK_RATE ? signal : resampledWhole(signal, rate, WORK_RATE);
}
