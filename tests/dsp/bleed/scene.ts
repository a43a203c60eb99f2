import { warp } from '../../../src/dsp/bleed/warp.ts';
import { convolve } from '../../../src/dsp/bleed/convolve.ts';

/** xorshift32: seeded noise for scenes. */
export function noiseSource(seed: number): () => number {
  let s = seed >>> 0 || 1;
  return () => {
    s ^= s << 13;
    s ^= s >>> 17;
    s ^= s << 5;
    return ((s >>> 0) / 2 ** 31 - 1) as number;
  };
}

/** A plain room: direct sound, then noise that decays by 60 dB in `rt60` seconds and starts 14 dB under it. */
export function simpleRoom(seed: number, rate: number, rt60: number): Float64Array {
  const noise = noiseSource(seed);
  const h = new Float64Array(Math.round(rt60 * rate));
  for (let n = 0; n < h.length; n++) h[n] = 0.06 * noise() * 10 ** ((-3 * n) / h.length);
  h[0] = 1;
  return h;
}

/** Drum-like bursts and chords on a grid: broadband, repeating, like a backing. */
export function simpleBacking(
  seed: number,
  rate: number,
  seconds: number,
  silent: [number, number][] = [],
): Float32Array {
  const noise = noiseSource(seed);
  const out = new Float32Array(Math.round(seconds * rate));
  const beat = 0.3;
  for (let i = 0; i * beat < seconds; i++) {
    const at = Math.round(i * beat * rate);
    const length = Math.round((i % 2 ? 0.06 : 0.14) * rate);
    for (let n = 0; n < length && at + n < out.length; n++)
      out[at + n]! +=
        0.3 * noise() * Math.exp((-6 * n) / length) +
        (i % 2 ? 0 : 0.4 * Math.sin((2 * Math.PI * 70 * n) / rate) * Math.exp((-4 * n) / length));
    if (i % 4 === 0)
      for (const midi of [45, 52, 57, 61])
        for (let h = 1; h < 8; h++) {
          const f = 440 * 2 ** ((midi - 69) / 12) * h;
          for (let n = 0; n < 1.1 * rate && at + n < out.length; n++)
            out[at + n]! += (0.03 / h) * Math.sin((2 * Math.PI * f * n) / rate) * Math.exp(-n / rate);
        }
  }
  for (const [from, to] of silent) out.fill(0, Math.round(from * rate), Math.round(to * rate));
  return out;
}

export interface Bleeding {
  readonly rate: number;
  readonly delaySec: number;
  readonly driftPpm: number;
  readonly room: Float64Array;
  /** A glitch: from here on the recording comes later by so many samples. */
  readonly glitch?: { readonly atSec: number; readonly samples: number };
}

/** What a microphone hears of `reference` alone. */
export function bleedOf(reference: Float32Array, how: Bleeding): Float32Array {
  const lag = (n: number): number =>
    how.delaySec * how.rate +
    n * how.driftPpm * 1e-6 +
    (how.glitch && n >= how.glitch.atSec * how.rate ? how.glitch.samples : 0);
  return Float32Array.from(
    convolve(
      warp(reference, reference.length, (n) => n - lag(n)),
      how.room,
    ),
  );
}
