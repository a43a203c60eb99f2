import { lowPassOnce } from './filters.ts';
import type { Random } from '../random.ts';

/** Near-Gaussian noise (four uniforms) of RMS 1. */
export function whiteNoise(length: number, random: Random): Float32Array {
  const out = new Float32Array(length);
  const scale = Math.sqrt(3);
  for (let i = 0; i < length; i++)
    out[i] = scale * (random.next() + random.next() + random.next() + random.next() - 2);
  return out;
}

/** Scales `pcm` in place to an RMS of `levelDb` dBFS; silence stays silence. */
export function levelTo(pcm: Float32Array, levelDb: number): Float32Array {
  let sum = 0;
  for (const x of pcm) sum += x * x;
  const now = Math.sqrt(sum / pcm.length);
  const gain = now > 0 ? 10 ** (levelDb / 20) / now : 0;
  for (let i = 0; i < pcm.length; i++) pcm[i]! *= gain;
  return pcm;
}

/** `added` onto `signal` from index `at` on. */
export function addTo(signal: Float32Array, added: Float32Array, at = 0, gain = 1): void {
  for (let i = Math.max(0, -at); i < added.length && at + i < signal.length; i++)
    signal[at + i]! += gain * added[i]!;
}

/** Hiss of a preamplifier, RMS in dBFS; duller with a low `cutoffHz`. */
export function addHiss(
  signal: Float32Array,
  levelDb: number,
  sampleRate: number,
  random: Random,
  cutoffHz = 9000,
): void {
  const hiss = whiteNoise(signal.length, random);
  lowPassOnce(hiss, cutoffHz, sampleRate);
  addTo(signal, levelTo(hiss, levelDb));
}
