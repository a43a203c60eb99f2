import { hann } from '../spectrum/hann.ts';
import { doubles } from '../signal/workspace.ts';
import { createRealFft } from '../spectrum/realFft.ts';
import { BINS, FRAME, FRAME_HOP, windowed, type Expected } from './expected.ts';

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
  const out = doubles(left.length);
  for (let k = 0; k < e.frames; k++) {
    const from = k * FRAME_HOP - FRAME / 2;
    windowed(fft.input, left, from, window);
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
