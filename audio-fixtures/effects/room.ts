import FFT from 'fft.js';
import type { Random } from '../random.ts';

export interface Room {
  /** Time to fall by 60 dB. */
  readonly rt60Sec: number;
  /** Level of the late sound against the direct one, dB (of energies). */
  readonly wetDb: number;
}

/** The direct sound at index 0, six early reflections, and a tail of decaying noise. */
export function roomResponse(room: Room, sampleRate: number, random: Random): Float32Array {
  const out = new Float32Array(Math.ceil(room.rt60Sec * sampleRate));
  const fall = (-3 * Math.LN10) / (room.rt60Sec * sampleRate);
  let energy = 0;
  const tailFrom = Math.round(0.012 * sampleRate);
  for (let i = tailFrom; i < out.length; i++) {
    out[i] = (random.next() + random.next() - 1) * Math.exp(fall * i);
    energy += out[i]! ** 2;
  }
  const gain = 10 ** (room.wetDb / 20) / Math.sqrt(energy);
  for (let i = tailFrom; i < out.length; i++) out[i]! *= gain;
  for (let k = 0; k < 6; k++) {
    const at = random.between(0.003, 0.04);
    const level = 10 ** ((room.wetDb - 4 - 200 * at) / 20);
    out[Math.round(at * sampleRate)]! += (random.chance(0.5) ? 1 : -1) * level;
  }
  out[0] = 1;
  return out;
}

/** `signal` convolved with `response`, cut to the signal's length. */
export function convolve(signal: Float32Array, response: Float32Array): Float32Array {
  let size = 2;
  while (size < 2 * response.length) size *= 2;
  const hop = size - response.length;
  const fft = new FFT(size);
  const pad = (from: Float32Array): Float64Array => {
    const block = new Float64Array(size);
    block.set(from);
    const spectrum = new Float64Array(2 * size);
    fft.realTransform(spectrum, block);
    fft.completeSpectrum(spectrum);
    return spectrum;
  };
  const filter = pad(response);
  const out = new Float32Array(signal.length);
  const inverse = new Float64Array(2 * size);
  for (let at = 0; at < signal.length; at += hop) {
    const block = pad(signal.subarray(at, at + hop));
    for (let i = 0; i < 2 * size; i += 2) {
      const re = block[i]! * filter[i]! - block[i + 1]! * filter[i + 1]!;
      block[i + 1] = block[i]! * filter[i + 1]! + block[i + 1]! * filter[i]!;
      block[i] = re;
    }
    fft.inverseTransform(inverse, block);
    for (let i = 0; i < size && at + i < out.length; i++) out[at + i]! += inverse[2 * i]!;
  }
  return out;
}
