import { WORK_RATE } from '../signal/prepared.ts';
import { createResampler } from '../signal/resampler.ts';
import { floats } from '../signal/workspace.ts';

/** The whole signal at {@link WORK_RATE}. @throws RangeError unless 8000 ≤ sampleRate ≤ 192000 */
export function toWorkRate(signal: Float32Array, sampleRate: number): Float32Array {
  if (!(sampleRate >= 8000 && sampleRate <= 192_000))
    throw new RangeError(`sample rate must be 8000 to 192000 Hz, got ${sampleRate}`);
  if (Math.round(sampleRate) === WORK_RATE) return signal;
  const out = floats(Math.ceil((signal.length * WORK_RATE) / Math.round(sampleRate)));
  let at = 0;
  const emit = (part: Float32Array): void => {
    const fits = part.subarray(0, out.length - at);
    out.set(fits, at);
    at += fits.length;
  };
  const resampler = createResampler(sampleRate, WORK_RATE);
  resampler.push(signal, emit);
  resampler.finish(emit);
  return out;
}
