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

/**
 * Spectrum of a short piece. What is read of it are square roots of magnitudes, (power^½ / scale)^½; they are taken
 * of what is asked for alone, as a root grows with what it is taken of.
 */
export interface ShortSpectrum {
  /** Squared magnitude of each bin. */
  readonly power: Float64Array;
  /** Sum of the window. */
  readonly scale: number;
}

/** Spectra of short pieces of the take; arrays are made once. */
export interface Spectra {
  /**
   * Spectrum of samples `from`…`to` (at most 140 ms) under a Hann window, kept in one of two places until the next
   * call for the same place. NaN throughout where the piece begins past the end: what comes there is not known.
   */
  of(place: 'before' | 'after', samples: Float32Array, from: number, to: number): ShortSpectrum;
}

export function createSpectra(): Spectra {
  const fft: RealFft = createRealFft(SIZE);
  const place = () => ({ power: new Float64Array(fft.bins), scale: 1, shape: new Float64Array(0) });
  const places = { before: place(), after: place() };
  return {
    of(name, samples, from, to) {
      const kept = places[name];
      const start = Math.max(0, Math.round(from));
      const length = Math.max(1, Math.min(LONGEST, Math.round(to) - start, samples.length - start));
      // Most pieces are as long as the last one in their place.
      if (kept.shape.length !== length) {
        kept.shape = centredHann(length);
        kept.scale = sumOf(kept.shape);
      }
      const { shape } = kept;
      if (start >= samples.length) {
        kept.power.fill(NaN);
        return kept;
      }
      for (let i = 0; i < length; i++) fft.input[i] = samples[start + i]! * shape[i]!;
      fft.input.fill(0, length);
      fft.powers(kept.power, fft.bins);
      return kept;
    },
  };
}

/** A Hann window without a zero, symmetrical. */
function centredHann(length: number): Float64Array<ArrayBuffer> {
  const shape = new Float64Array(length);
  const turn = (2 * Math.PI) / length;
  for (let i = 0; i < length; i++) shape[i] = 0.5 - 0.5 * Math.cos(turn * (i + 0.5));
  return shape;
}

function sumOf(values: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i]!;
  return sum;
}

const rooted = (power: number, scale: number): number => Math.sqrt(Math.sqrt(power) / scale);

/** The greatest root within ±1.2 % of a frequency given in bins; 0 beyond the spectrum. */
export function toothAt({ power, scale }: ShortSpectrum, bin: number): number {
  const from = Math.max(0, Math.round(bin * (1 - TOLERANCE)));
  const to = Math.round(bin * (1 + TOLERANCE));
  if (to >= power.length) return 0;
  let top = 0;
  for (let i = from; i <= to; i++) if (power[i]! > top) top = power[i]!;
  return rooted(top, scale);
}

/** The greatest root of a whole spectrum; NaN where nothing is known. */
export function highestTooth({ power, scale }: ShortSpectrum): number {
  let top = 0;
  for (let i = 0; i < power.length; i++) if (!(power[i]! <= top)) top = power[i]!;
  return rooted(top, scale);
}

/** Frequency of a MIDI number in bins of {@link Spectra}. */
export const binOf = (midi: number): number => ((440 * 2 ** ((midi - 69) / 12)) / WORK_RATE) * SIZE;

/**
 * How well a comb of 12 partials fits each semitone (in the manner of Klapuri, ISMIR 2006), over the best
 * semitone's score: `out[n]` for MIDI {@link LOWEST} + n, at most 1.
 */
export function combScores(spectrum: ShortSpectrum, out: Float64Array): Float64Array {
  let best = 1e-12;
  for (let n = 0; n < PITCHES; n++) {
    const f0 = binOf(LOWEST + n);
    let score = 0;
    let weight = 1;
    for (let h = 1; h <= PARTIALS; h++) {
      score += weight * (toothAt(spectrum, h * f0) - HALFWAY * toothAt(spectrum, (h - 0.5) * f0));
      weight *= PARTIAL_DECAY;
    }
    out[n] = score;
    if (score > best) best = score;
  }
  for (let n = 0; n < PITCHES; n++) out[n] = out[n]! / best;
  return out;
}
