/** Periodic Hann window of `length` samples, peak 1. @throws RangeError unless length is a whole number ≥ 1 */
export function hann(length: number): Float64Array {
  if (!Number.isInteger(length) || length < 1)
    throw new RangeError(`window length must be a whole number of at least 1, got ${length}`);
  const window = new Float64Array(length);
  for (let i = 0; i < length; i++) window[i] = 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / length);
  return window;
}
