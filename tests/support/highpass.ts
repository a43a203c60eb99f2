/** What a laptop's loudspeaker leaves: a second-order Butterworth high-pass (RBJ cookbook), default 280 Hz. */
export function highPass(samples: Float32Array, sampleRate: number, hertz = 280): Float32Array {
  const w = (2 * Math.PI * hertz) / sampleRate;
  const alpha = Math.sin(w) / Math.SQRT2;
  const [b0, a0, a1, a2] = [(1 + Math.cos(w)) / 2, 1 + alpha, -2 * Math.cos(w), 1 - alpha];
  const out = new Float32Array(samples.length);
  let [x1, x2, y1, y2] = [0, 0, 0, 0];
  for (let i = 0; i < samples.length; i++) {
    const x = samples[i]!;
    const y = (b0 * (x - 2 * x1 + x2) - a1 * y1 - a2 * y2) / a0;
    [x2, x1, y2, y1] = [x1, x, y1, y];
    out[i] = y;
  }
  return out;
}

/** RMS level, dB. */
export const levelDb = (samples: Float32Array): number =>
  10 * Math.log10(samples.reduce((sum, x) => sum + x * x, 0) / samples.length);
