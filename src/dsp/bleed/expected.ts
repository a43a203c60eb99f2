import { upperMedian } from '../../music/numbers.ts';
import { hann } from '../spectrum/hann.ts';
import { createRealFft } from '../spectrum/realFft.ts';
import { BLEED_RATE } from './align.ts';

/** 43 ms at 24 kHz: separates a guitar's partials from E2 on. */
export const FRAME = 1024;
/** 5.3 ms. */
export const FRAME_HOP = 128;
export const BINS = FRAME / 2 + 1;

/** Power spectra, one row of {@link BINS} a frame; frame k is centred on sample k · {@link FRAME_HOP}. */
export interface Powers {
  readonly frames: number;
  readonly power: Float32Array;
}

/** What of the backing is expected to be left in each frame and bin, beside what is there. */
export interface Expected {
  readonly left: Powers;
  /** Expected power of the leftovers, same layout. */
  readonly leftover: Powers;
}

export function powers(signal: Float64Array): Powers {
  const fft = createRealFft(FRAME);
  const window = hann(FRAME);
  const frames = Math.floor(signal.length / FRAME_HOP) + 1;
  const power = new Float32Array(frames * BINS);
  for (let k = 0; k < frames; k++) {
    const from = k * FRAME_HOP - FRAME / 2;
    for (let i = 0; i < FRAME; i++) fft.input[i] = (signal[from + i] ?? 0) * window[i]!;
    fft.forward();
    for (let b = 0; b < BINS; b++)
      power[k * BINS + b] = fft.spectrum[2 * b]! ** 2 + fft.spectrum[2 * b + 1]! ** 2;
  }
  return { frames, power };
}

/** Reverberation that the learnt room does not reach decays like a living room's, 60 dB in 0.4 s. */
const LATE_RT60_SEC = 0.4;
/** The quarter quantile: with notes sounding three quarters of the time it still sees the leftovers. */
const QUANTILE = 0.25;
/** That quantile of a power that is exponentially distributed around 1: −ln 0.75. */
const QUANTILE_OF_NOISE = 0.288;
const SMOOTH_BINS = 7;
/**
 * Where one string sounds throughout (a rhythm, a bass), its bins' quantile is the string itself, and it would be
 * masked away: −8 dB were expected of leftovers at −35 dB. So no bin is expected to leave more than the middle one
 * (6 kHz, above what sustains), nor more than a microphone moved by 3 cm would (|1 − exp(jkd)|² ≈ (kd)²; what moved
 * further is learnt anew on the take), nor that to be less than −14 dB.
 */
const MOVED_M = 0.03;
const SOUND_M_PER_SEC = 343;
const LEAST_BOUND = 0.04;
const bound = (bin: number): number =>
  Math.max(LEAST_BOUND, ((2 * Math.PI * bin * BLEED_RATE * MOVED_M) / FRAME / SOUND_M_PER_SEC) ** 2);

/**
 * Expected leftovers R(t, f) = g(f) · (P + late), P being the power of the bleed that was taken out.
 * g is learnt on the take itself: playing along in the hearing would spoil it.
 */
export function expectLeftovers(left: Float64Array, bleed: Float64Array): Expected {
  const e = powers(left);
  const p = powers(bleed);
  const keep = 10 ** ((-6 * FRAME_HOP) / BLEED_RATE / LATE_RT60_SEC);
  const source = new Float32Array(p.power.length);
  for (let b = 0; b < BINS; b++) {
    let late = 0;
    for (let k = 0; k < p.frames; k++) {
      const now = p.power[k * BINS + b]!;
      source[k * BINS + b] = now + late;
      late = keep * late + (1 - keep) * now;
    }
  }
  const loudness = new Float64Array(p.frames);
  for (let k = 0; k < p.frames; k++) for (let b = 0; b < BINS; b++) loudness[k]! += p.power[k * BINS + b]!;
  const half = upperMedian(loudness);
  const gain = new Float64Array(BINS);
  for (let b = 0; b < BINS; b++) {
    const ratios: number[] = [];
    for (let k = 0; k < p.frames; k++)
      if (loudness[k]! > half && source[k * BINS + b]! > 0)
        ratios.push(e.power[k * BINS + b]! / source[k * BINS + b]!);
    ratios.sort((x, y) => x - y);
    gain[b] = (ratios[Math.floor(QUANTILE * ratios.length)] ?? 0) / QUANTILE_OF_NOISE;
  }
  const most = upperMedian(gain);
  const smooth = medianFilter(gain, SMOOTH_BINS).map((g, b) => Math.min(g, most, bound(b)));
  for (let k = 0; k < p.frames; k++) for (let b = 0; b < BINS; b++) source[k * BINS + b]! *= smooth[b]!;
  return { left: e, leftover: { frames: p.frames, power: source } };
}

function medianFilter(values: Float64Array, width: number): Float64Array {
  const reach = width >> 1;
  return values.map((_, i) => upperMedian(values.slice(Math.max(0, i - reach), i + reach + 1)));
}
