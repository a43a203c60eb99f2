/**
 * Impulse responses of box-shaped rooms by the image method (Allen & Berkley, JASA 1979), with the
 * highs decaying faster: one response for the lows and one for the highs, crossed over at 2 kHz.
 */
export interface Box {
  /** Length, width, height in metres. */
  readonly size: readonly [number, number, number];
  readonly source: readonly [number, number, number];
  readonly microphone: readonly [number, number, number];
  /** Reverberation time of the lows, seconds; the highs have 0.6 of it. */
  readonly rt60: number;
}

const SOUND = 343;
/** Half length of the fractional-delay kernel, samples. */
const HALF = 8;

/** Reflection factor of all walls that gives `rt60` (Eyring's formula). */
function reflection(size: Box['size'], rt60: number): number {
  const [x, y, z] = size;
  const volume = x * y * z;
  const surface = 2 * (x * y + y * z + x * z);
  const absorption = 1 - Math.exp((-0.161 * volume) / (surface * rt60));
  return Math.sqrt(1 - absorption);
}

/** The responses for several reflection factors, from one walk over the images. */
function images(box: Box, rate: number, betas: readonly number[], length: number): Float64Array[] {
  const responses = betas.map(() => new Float64Array(length));
  const reach = (length / rate) * SOUND;
  const counts = box.size.map((side) => Math.ceil(reach / (2 * side)));
  // Along one axis: the distance to each image and how often it was reflected.
  const axis = (i: 0 | 1 | 2): [number, number][] => {
    const list: [number, number][] = [];
    for (let m = -counts[i]!; m <= counts[i]!; m++)
      for (const mirrored of [0, 1]) {
        const place = (mirrored ? -box.source[i] : box.source[i]) + 2 * m * box.size[i];
        list.push([(place - box.microphone[i]) ** 2, Math.abs(2 * m - mirrored)]);
      }
    return list.filter(([d]) => d < reach * reach);
  };
  const [xs, ys, zs] = [axis(0), axis(1), axis(2)];
  for (const [dx, nx] of xs)
    for (const [dy, ny] of ys) {
      if (dx + dy > reach * reach) continue;
      for (const [dz, nz] of zs) {
        const distance = Math.sqrt(dx + dy + dz);
        if (distance > reach) continue;
        const at = (distance / SOUND) * rate;
        const n0 = Math.floor(at);
        if (n0 + 1 >= length) continue;
        responses.forEach((h, i) => {
          const gain = betas[i]! ** (nx + ny + nz) / Math.max(distance, 0.1);
          // Early images to the fraction of a sample; late ones are dense enough for two points.
          if (at < 0.05 * rate)
            for (let n = Math.max(0, Math.ceil(at - HALF)); n <= Math.min(length - 1, at + HALF); n++) {
              const x = Math.PI * (n - at);
              h[n]! += gain * (x === 0 ? 1 : Math.sin(x) / x) * (0.5 + 0.5 * Math.cos(x / HALF));
            }
          else {
            h[n0]! += gain * (1 - (at - n0));
            h[n0 + 1]! += gain * (at - n0);
          }
        });
      }
    }
  return responses;
}

/**
 * Eyring's formula assumes a diffuse field; a bare box decays 1.5 times slower (Schroeder's backward
 * integral, −5…−25 dB, of a 4.1 × 3.3 × 2.5 m box: 0.31, 0.61, 0.89 s for 0.2, 0.4, 0.6 s).
 */
const BOX_TO_EYRING = 1 / 1.5;

/** Response at `rate`, as long as the room sounds; first sample = the instant at the source. */
export function roomResponse(box: Box, rate: number): Float64Array {
  const length = Math.ceil(box.rt60 * 0.9 * rate);
  const factors = [box.rt60, 0.6 * box.rt60].map((rt60) => reflection(box.size, rt60 * BOX_TO_EYRING));
  const [low, high] = images(box, rate, factors, length) as [Float64Array, Float64Array];
  // One-pole crossover: low-pass of the one plus what it leaves of the other; sums to flat.
  const pole = Math.exp((-2 * Math.PI * 2000) / rate);
  let a = 0;
  let b = 0;
  return low.map((v, n) => {
    a = v + pole * (a - v);
    b = high[n]! + pole * (b - high[n]!);
    return a + (high[n]! - b);
  });
}
