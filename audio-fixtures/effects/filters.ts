/** Second-order filters after R. Bristow-Johnson's Audio EQ Cookbook (Q = 0.7071), in place. */
function biquad(pcm: Float32Array, b0: number, b1: number, b2: number, a1: number, a2: number): void {
  let x1 = 0;
  let x2 = 0;
  let y1 = 0;
  let y2 = 0;
  for (let i = 0; i < pcm.length; i++) {
    const x = pcm[i]!;
    const y = b0 * x + b1 * x1 + b2 * x2 - a1 * y1 - a2 * y2;
    x2 = x1;
    x1 = x;
    y2 = y1;
    y1 = y;
    pcm[i] = y;
  }
}

function design(cutoffHz: number, sampleRate: number): { cos: number; alpha: number; a0: number } {
  const w = (2 * Math.PI * Math.min(cutoffHz, 0.45 * sampleRate)) / sampleRate;
  const alpha = Math.sin(w) * Math.SQRT1_2;
  return { cos: Math.cos(w), alpha, a0: 1 + alpha };
}

/** 12 dB an octave above `cutoffHz`. */
export function lowPass(pcm: Float32Array, cutoffHz: number, sampleRate: number): void {
  const { cos, alpha, a0 } = design(cutoffHz, sampleRate);
  const b = (1 - cos) / a0;
  biquad(pcm, b / 2, b, b / 2, (-2 * cos) / a0, (1 - alpha) / a0);
}

/** 12 dB an octave below `cutoffHz`. */
export function highPass(pcm: Float32Array, cutoffHz: number, sampleRate: number): void {
  const { cos, alpha, a0 } = design(cutoffHz, sampleRate);
  const b = (1 + cos) / a0;
  biquad(pcm, b / 2, -b, b / 2, (-2 * cos) / a0, (1 - alpha) / a0);
}

/** 6 dB an octave above `cutoffHz`: a softer touch, a duller string. */
export function lowPassOnce(pcm: Float32Array, cutoffHz: number, sampleRate: number): void {
  const keep = Math.exp((-2 * Math.PI * Math.min(cutoffHz, 0.45 * sampleRate)) / sampleRate);
  let y = 0;
  for (let i = 0; i < pcm.length; i++) pcm[i] = y += (1 - keep) * (pcm[i]! - y);
}
