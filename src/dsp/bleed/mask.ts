import { hann } from '../spectrum/hann.ts';
import { createRealFft } from '../spectrum/realFft.ts';
import { BINS, FRAME, FRAME_HOP, type Expected } from './expected.ts';

/** −20 dB: lower leaves holes that sound, and look, like new onsets when they close. */
const FLOOR = 0.1;
/** Hann twice with hop FRAME / 8: Σ w² = 3. */
const OVERLAP = 3;

/**
 * Wiener gain 1 − R/E, bin by bin, on what is left: pitch is read from this. Onsets are not: a gain that
 * opens is itself an onset.
 */
export function maskLeftovers(left: Float64Array, { left: e, leftover: r }: Expected): Float64Array {
  const fft = createRealFft(FRAME);
  const window = hann(FRAME);
  const out = new Float64Array(left.length);
  for (let k = 0; k < e.frames; k++) {
    const from = k * FRAME_HOP - FRAME / 2;
    for (let i = 0; i < FRAME; i++) fft.input[i] = (left[from + i] ?? 0) * window[i]!;
    fft.forward();
    for (let b = 0; b < BINS; b++) {
      const at = k * BINS + b;
      const gain = Math.max(FLOOR, 1 - r.power[at]! / (e.power[at]! + 1e-20));
      fft.spectrum[2 * b]! *= gain;
      fft.spectrum[2 * b + 1]! *= gain;
    }
    fft.inverse();
    for (let i = 0; i < FRAME; i++)
      if (from + i >= 0 && from + i < out.length) out[from + i]! += (fft.input[i]! * window[i]!) / OVERLAP;
  }
  return out;
}
