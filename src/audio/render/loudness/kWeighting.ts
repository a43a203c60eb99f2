/**
 * K-weighting of ITU-R BS.1770-5, annex 1: a high shelf (the head) and a high pass (the ear's bass loss).
 *
 * The recommendation gives coefficients at 48 kHz only. For other rates both filters are designed from their
 * analogue parameters by the bilinear transform; the parameters below reproduce the printed 48 kHz
 * coefficients to 1e-9 (tests/audio/loudness.test.ts checks it).
 */
const SHELF = { hz: 1681.974450955533, gainDb: 3.999843853973347, q: 0.7071752369554196 };
/** Exponent that places the shelf's middle gain; found with the other parameters. */
const SHELF_BAND_EXPONENT = 0.4996667741545416;
const HIGH_PASS = { hz: 38.13547087602444, q: 0.5003270373238773 };

/** A second-order section, `a0` divided out: y = b0 x + b1 x' + b2 x'' − a1 y' − a2 y''. */
export interface Biquad {
  readonly b0: number;
  readonly b1: number;
  readonly b2: number;
  readonly a1: number;
  readonly a2: number;
}

/** Both stages for a sample rate in hertz. */
export function kFilters(sampleRate: number): readonly [Biquad, Biquad] {
  const k = Math.tan((Math.PI * SHELF.hz) / sampleRate);
  const high = 10 ** (SHELF.gainDb / 20);
  const band = high ** SHELF_BAND_EXPONENT;
  const a0 = 1 + k / SHELF.q + k * k;
  const shelf = {
    b0: (high + (band * k) / SHELF.q + k * k) / a0,
    b1: (2 * (k * k - high)) / a0,
    b2: (high - (band * k) / SHELF.q + k * k) / a0,
    a1: (2 * (k * k - 1)) / a0,
    a2: (1 - k / SHELF.q + k * k) / a0,
  };
  const h = Math.tan((Math.PI * HIGH_PASS.hz) / sampleRate);
  const d0 = 1 + h / HIGH_PASS.q + h * h;
  const highPass = {
    b0: 1,
    b1: -2,
    b2: 1,
    a1: (2 * (h * h - 1)) / d0,
    a2: (1 - h / HIGH_PASS.q + h * h) / d0,
  };
  return [shelf, highPass];
}

/** The signal through one section, starting at rest. */
export function filter(input: Float32Array | Float64Array, f: Biquad): Float64Array {
  const out = new Float64Array(input.length);
  let s1 = 0;
  let s2 = 0;
  for (let i = 0; i < input.length; i++) {
    const x = input[i]!;
    const y = f.b0 * x + s1;
    s1 = f.b1 * x - f.a1 * y + s2;
    s2 = f.b2 * x - f.a2 * y;
    out[i] = y;
  }
  return out;
}

/** The K-weighted signal. */
export function kWeighted(samples: Float32Array, sampleRate: number): Float64Array {
  const [shelf, highPass] = kFilters(sampleRate);
  return filter(filter(samples, shelf), highPass);
}
