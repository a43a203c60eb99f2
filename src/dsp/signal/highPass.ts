/**
 * Second-order Butterworth high-pass, a stream filter (Bristow-Johnson, Audio EQ Cookbook: HPF, Q = 1/√2).
 * State is carried from block to block; `process` writes into the block it is given.
 *
 * @param cutoffHz 0 < cutoffHz < sampleRate / 2
 */
export function createHighPass(cutoffHz: number, sampleRate: number): (block: Float32Array) => void {
  if (!(cutoffHz > 0 && cutoffHz < sampleRate / 2))
    throw new RangeError(`cut-off must lie between 0 and ${sampleRate / 2} Hz, got ${cutoffHz}`);
  const w = (2 * Math.PI * cutoffHz) / sampleRate;
  const alpha = Math.sin(w) / Math.SQRT2;
  const a0 = 1 + alpha;
  const b0 = (1 + Math.cos(w)) / 2 / a0;
  const b1 = -2 * b0;
  const a1 = (-2 * Math.cos(w)) / a0;
  const a2 = (1 - alpha) / a0;
  const filter: Filter = { b0, b1, a1, a2, z1: 0, z2: 0 };
  return (block) => run(filter, block);
}

interface Filter {
  readonly b0: number;
  readonly b1: number;
  readonly a1: number;
  readonly a2: number;
  z1: number;
  z2: number;
}

/** b2 = b0. Outside the closure and with sums of its own, as an engine makes an object of each number that one keeps. */
function run(filter: Filter, block: Float32Array): void {
  const { b0, b1, a1, a2 } = filter;
  let { z1, z2 } = filter;
  for (let i = 0; i < block.length; i++) {
    const x = block[i]!;
    const y = b0 * x + z1;
    z1 = b1 * x - a1 * y + z2;
    z2 = b0 * x - a2 * y;
    // Below 1e-30 there is nothing to hear and denormal arithmetic is slow.
    if (Math.abs(z1) < 1e-30) z1 = 0;
    if (Math.abs(z2) < 1e-30) z2 = 0;
    block[i] = y;
  }
  filter.z1 = z1;
  filter.z2 = z2;
}
