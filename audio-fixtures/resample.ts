/** Band-limited resampling of one recorded note: a Hann-windowed sinc read at fractional places. */
const HALF_WIDTH = 16; // zero crossings each side; transition band about 9 % of the band
const STEPS = 512; // table entries a crossing; linear interpolation between them errs under −100 dB

const kernel = new Float64Array(HALF_WIDTH * STEPS + 2);
for (let i = 0; i <= HALF_WIDTH * STEPS; i++) {
  const x = i / STEPS;
  const sinc = x === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x);
  kernel[i] = sinc * (0.5 + 0.5 * Math.cos((Math.PI * x) / HALF_WIDTH));
}

/**
 * Reads `pcm` at `ratio` source samples an output sample (2 = an octave up, half as long).
 *
 * @param maxOutput stop after so many output samples
 */
export function resample(pcm: Float32Array, ratio: number, maxOutput = Infinity): Float32Array {
  if (!(ratio > 0.1 && ratio < 10)) throw new RangeError(`ratio must lie in 0.1…10, got ${ratio}`);
  if (ratio === 1) return pcm.slice(0, Math.min(pcm.length, maxOutput));
  return resampleAt(pcm, Math.min(maxOutput, Math.floor(pcm.length / ratio)), (i) => i * ratio, ratio);
}

/** As {@link resample}, with any slowly varying read place: bends and vibrato. `ratio` bounds the band. */
export function resampleAt(
  pcm: Float32Array,
  length: number,
  place: (index: number) => number,
  ratio: number,
): Float32Array {
  const out = new Float32Array(length);
  const cutoff = Math.min(1, 1 / ratio);
  const reach = HALF_WIDTH / cutoff;
  for (let n = 0; n < length; n++) {
    const at = place(n);
    const from = Math.max(0, Math.ceil(at - reach));
    const to = Math.min(pcm.length - 1, Math.floor(at + reach));
    let sum = 0;
    for (let k = from; k <= to; k++) {
      const x = Math.abs(at - k) * cutoff * STEPS;
      const j = Math.floor(x);
      const w = kernel[j]! + (kernel[j + 1]! - kernel[j]!) * (x - j);
      sum += pcm[k]! * w;
    }
    out[n] = sum * cutoff;
  }
  return out;
}
