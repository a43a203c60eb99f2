/**
 * A smaller copy of a take for listening: a WAV file of 8-bit µ-law (ITU-T G.711, WAVE format 7) at a
 * quarter to a third of the rate. One sixth of 16-bit at 48 kHz; every browser decodes it.
 */
const MU = 255;
/** Rate to stay near: its 8 kHz of bandwidth hold an open bass string's fundamental and a guitar's attack. */
const NEAR_RATE = 16_000;

/** G.711 µ-law byte of a sample −1…1: sign, three bits of exponent, four of mantissa, all inverted. */
export function mulaw(sample: number): number {
  const clipped = Math.max(-1, Math.min(1, sample));
  const biased = Math.min(32635, Math.round(Math.abs(clipped) * 32767)) + 132;
  const exponent = Math.min(7, Math.max(0, Math.floor(Math.log2(biased)) - 7));
  const mantissa = (biased >> (exponent + 3)) & 15;
  return ~((clipped < 0 ? 128 : 0) | (exponent << 4) | mantissa) & MU;
}

/** The sample of a µ-law byte. */
export function unmulaw(byte: number): number {
  const bits = ~byte & MU;
  const magnitude = (((bits & 15) << 3) + 132) << ((bits >> 4) & 7);
  return ((bits & 128 ? -1 : 1) * (magnitude - 132)) / 32768;
}

/** @param samples mono, −1…1, from beat 1 on. @returns a whole WAV file. */
export function squeeze(samples: Float32Array, sampleRate: number): Uint8Array<ArrayBuffer> {
  const step = Math.max(1, Math.round(sampleRate / NEAR_RATE));
  const length = Math.floor(samples.length / step);
  const file = new Uint8Array(58 + length);
  const view = new DataView(file.buffer);
  const text = (at: number, word: string) => [...word].forEach((c, i) => (file[at + i] = c.charCodeAt(0)));
  text(0, 'RIFF');
  view.setUint32(4, 50 + length, true);
  text(8, 'WAVEfmt ');
  view.setUint32(16, 18, true);
  view.setUint16(20, 7, true);
  view.setUint16(22, 1, true);
  view.setUint32(24, Math.round(sampleRate / step), true);
  view.setUint32(28, Math.round(sampleRate / step), true);
  view.setUint16(32, 1, true);
  view.setUint16(34, 8, true);
  text(38, 'fact');
  view.setUint32(42, 4, true);
  view.setUint32(46, length, true);
  text(50, 'data');
  view.setUint32(54, length, true);
  // The mean of each step is the low-pass: −4 dB at the new half rate, enough for listening.
  for (let i = 0; i < length; i++) {
    let sum = 0;
    for (let k = 0; k < step; k++) sum += samples[i * step + k]!;
    file[58 + i] = mulaw(sum / step);
  }
  return file;
}

/** Samples of what {@link squeeze} made; null for anything else. */
export function unsqueeze(
  file: Uint8Array<ArrayBuffer>,
): { samples: Float32Array<ArrayBuffer>; sampleRate: number } | null {
  if (file.length < 58) return null;
  const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
  if (view.getUint16(20, true) !== 7 || view.getUint32(54, true) !== file.length - 58) return null;
  return {
    samples: Float32Array.from(file.subarray(58), unmulaw),
    sampleRate: view.getUint32(24, true),
  };
}
