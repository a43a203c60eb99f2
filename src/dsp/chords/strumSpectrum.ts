import { peakOffset } from '../../music/numbers.ts';
import { createRealFft } from '../spectrum/realFft.ts';
import { hann } from '../spectrum/hann.ts';
import { WORK_RATE } from '../signal/prepared.ts';
import { FFT_SIZE, HOP, LEAST_SETTLE_SEC, MOST_FRAMES, SETTLE_SEC, TOP_HZ, WINDOW } from './constants.ts';

/** Hz from one value of a spectrum to the next. */
export const STEP_HZ = WORK_RATE / FFT_SIZE;
/** Hz of one bin of the window itself. */
export const WINDOW_BIN_HZ = WORK_RATE / WINDOW;
/** Values kept: to {@link TOP_HZ} and an octave-third beyond, for floor and search windows. */
export const VALUES = Math.ceil((TOP_HZ * 1.25) / STEP_HZ);
/** A floor's quartile is taken about so many Hz apart and drawn straight between. */
const FLOOR_STEP = 12;

/** Mean power spectrum of a strum, dB re a sine of amplitude 1, and the floor that its peaks stand on. */
export interface StrumSpectrum {
  /** Power, linear, {@link VALUES} long, {@link STEP_HZ} apart. */
  readonly power: Float64Array;
  readonly db: Float64Array;
  /** Lower quartile of `db` within ±(60 Hz + 0.12 f). */
  readonly floorDb: Float64Array;
}

const fft = createRealFft(FFT_SIZE);
const window = hann(WINDOW);
/** A sine of amplitude 1 gives power 1 at its middle: the Hann window's mean is ½, a real sine has two halves. */
const SCALE = (4 / WINDOW) ** 2;
const powers = new Float64Array(FFT_SIZE / 2 + 1);

/** Where frames may start, in samples from the strum's first string; at least one. */
export function frameStarts(soundingSamples: number): number[] {
  const settle = Math.round(SETTLE_SEC * WORK_RATE);
  const last = soundingSamples - WINDOW;
  if (last < settle) return [Math.max(Math.round(LEAST_SETTLE_SEC * WORK_RATE), last)];
  const starts: number[] = [];
  for (let at = settle; at <= last && starts.length < MOST_FRAMES; at += HOP) starts.push(at);
  return starts;
}

/**
 * @param samples mono at the working rate; beyond its end counts as silence
 * @param first index of the strum's first string
 * @param until index where the next stroke, or silence, begins
 */
export function strumSpectrum(samples: Float32Array, first: number, until: number): StrumSpectrum {
  const power = new Float64Array(VALUES);
  const starts = frameStarts(until - first);
  for (const start of starts) {
    fft.input.fill(0);
    for (let i = 0; i < WINDOW; i++) {
      const at = first + start + i;
      if (at >= 0 && at < samples.length) fft.input[i] = samples[at]! * window[i]!;
    }
    fft.powers(powers, VALUES);
    for (let k = 0; k < VALUES; k++) power[k] = power[k]! + powers[k]! * SCALE;
  }
  const db = new Float64Array(VALUES);
  for (let k = 0; k < VALUES; k++) {
    power[k] = power[k]! / starts.length;
    db[k] = 10 * Math.log10(power[k]! + 1e-20);
  }
  return { power, db, floorDb: floorOf(db) };
}

function floorOf(db: Float64Array): Float64Array {
  const floor = new Float64Array(db.length);
  let before = 0;
  for (let k = 0; ; k = Math.min(k + FLOOR_STEP, db.length - 1)) {
    const reach = Math.round((60 + 0.12 * k * STEP_HZ) / STEP_HZ);
    const near = db.slice(Math.max(0, k - reach), Math.min(db.length, k + reach + 1)).sort();
    floor[k] = near[Math.floor(near.length / 4)]!;
    for (let i = before + 1; i < k; i++)
      floor[i] = floor[before]! + ((floor[k]! - floor[before]!) * (i - before)) / (k - before);
    before = k;
    if (k === db.length - 1) return floor;
  }
}

/** A local maximum: where a parabola through three values in dB puts it. */
export interface Peak {
  readonly hz: number;
  readonly db: number;
}

/** The peak at value `k` of a spectrum in dB, which is greater than its neighbours. */
export function peakAt(db: Float64Array, k: number): Peak {
  const [a, b, c] = [db[k - 1]!, db[k]!, db[k + 1]!];
  const shift = Math.max(-0.5, Math.min(0.5, peakOffset(a, b, c)));
  return { hz: (k + shift) * STEP_HZ, db: b - 0.25 * (a - c) * shift };
}

/** The `count` strongest peaks under `topHz`, strongest first. */
export function strongestPeaks(db: Float64Array, topHz: number, count: number, fromHz = 35): Peak[] {
  const peaks: Peak[] = [];
  const last = Math.min(db.length - 2, Math.floor(topHz / STEP_HZ));
  for (let k = Math.max(1, Math.ceil(fromHz / STEP_HZ)); k <= last; k++)
    if (db[k]! > db[k - 1]! && db[k]! >= db[k + 1]!) peaks.push(peakAt(db, k));
  return peaks.sort((a, b) => b.db - a.db).slice(0, count);
}
