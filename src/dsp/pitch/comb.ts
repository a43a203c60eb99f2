import { ms, WORK_RATE } from '../signal/prepared.ts';
import { createRealFft } from '../spectrum/realFft.ts';
import type { RealFft } from '../spectrum/realFft.ts';
import { LOWEST, PITCHES } from './salience.ts';

/** Zero-padded length: 5.4 Hz a bin. */
const SIZE = 8192;
const LONGEST = Math.round(ms(140));
export const PARTIALS = 12;
const PARTIAL_DECAY = 0.86;
/** Weight of what lies half-way between partials: an octave too low pays for every other tooth. */
const HALFWAY = 0.4;
/** A partial is looked for within ±1.2 % (20 cents): stretched strings and slight detuning. */
const TOLERANCE = 0.012;

/** Magnitude spectra of short pieces of the take; arrays are made once. */
export interface Spectra {
  /** Square roots of magnitudes of samples `from`…`to` (at most 140 ms), Hann window. Overwritten by the next call. */
  rooted(samples: Float32Array, from: number, to: number): Float64Array;
}

export function createSpectra(): Spectra {
  const fft: RealFft = createRealFft(SIZE);
  const roots = new Float64Array(fft.bins);
  return {
    rooted(samples, from, to) {
      const start = Math.max(0, Math.round(from));
      const length = Math.max(1, Math.min(LONGEST, Math.round(to) - start, samples.length - start));
      fft.input.fill(0);
      const turn = (2 * Math.PI) / length;
      let sum = 0;
      for (let i = 0; i < length; i++) {
        const w = 0.5 - 0.5 * Math.cos(turn * (i + 0.5));
        sum += w;
        fft.input[i] = samples[start + i]! * w;
      }
      fft.forward();
      for (let i = 0; i < fft.bins; i++) {
        const re = fft.spectrum[2 * i]!;
        const im = fft.spectrum[2 * i + 1]!;
        roots[i] = Math.sqrt(Math.sqrt(re * re + im * im) / sum);
      }
      return roots;
    },
  };
}

/** The greatest value within ±1.2 % of a frequency given in bins; 0 beyond the spectrum. */
export function toothAt(roots: Float64Array, bin: number): number {
  const from = Math.max(0, Math.round(bin * (1 - TOLERANCE)));
  const to = Math.round(bin * (1 + TOLERANCE));
  if (to >= roots.length) return 0;
  let top = 0;
  for (let i = from; i <= to; i++) if (roots[i]! > top) top = roots[i]!;
  return top;
}

/** Frequency of a MIDI number in bins of {@link Spectra}. */
export const binOf = (midi: number): number => ((440 * 2 ** ((midi - 69) / 12)) / WORK_RATE) * SIZE;

/**
 * How well a comb of 12 partials fits each semitone (in the manner of Klapuri, ISMIR 2006), over the best
 * semitone's score: `out[n]` for MIDI {@link LOWEST} + n, at most 1.
 */
export function combScores(roots: Float64Array, out: Float64Array): Float64Array {
  let best = 1e-12;
  for (let n = 0; n < PITCHES; n++) {
    const f0 = binOf(LOWEST + n);
    let score = 0;
    let weight = 1;
    for (let h = 1; h <= PARTIALS; h++) {
      score += weight * (toothAt(roots, h * f0) - HALFWAY * toothAt(roots, (h - 0.5) * f0));
      weight *= PARTIAL_DECAY;
    }
    out[n] = score;
    if (score > best) best = score;
  }
  for (let n = 0; n < PITCHES; n++) out[n] = out[n]! / best;
  return out;
}
