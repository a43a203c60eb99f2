import { createHighPass } from './highPass.ts';
import { halve } from './halve.ts';
import { doubles, singles } from './workspace.ts';

/**
 * Rate at which everything is heard, Hz. Other rates are resampled to it, so that every number that was
 * fitted (bands, windows, decision) means the same whatever the device gives.
 */
export const WORK_RATE = 44_100;
/** Hop of the onset frames, samples: 2.9 ms. Pitch frames use the same count at half the rate: 5.8 ms. */
export const HOP = 128;
/** RMS to which a take's loud part is scaled: a pluck's peak lies 12 dB above, so peaks come near 1. */
export const REFERENCE_RMS = 0.25;
/** Added to mean squares before logarithms: −90 dBFS, below any microphone's noise after scaling. */
const FLOOR_POWER = 1e-9;

/** A take made ready: high-passed at 30 Hz, scaled so that its loud part has {@link REFERENCE_RMS}. */
export interface Prepared {
  readonly samples: Float32Array;
  /** Factor that was applied: input = samples / gain. */
  readonly gain: number;
  /** Running sum of squares, length + 1. */
  readonly energy: Float64Array;
  /** Running sum of squared sample-to-sample differences, length + 1: energy of the bright part. */
  readonly edges: Float64Array;
  /** The same at half the rate. */
  readonly half: Float32Array;
  /** For each 20 ms block: is it within 40 dB of the loud part? Statistics are taken there alone. */
  readonly sounding: Uint8Array;
}

export const SOUNDING_BLOCK = 882;

/** Running sum of squares with one more entry than `values`. */
function runningEnergy(values: Float32Array): Float64Array {
  const sum = doubles(values.length + 1);
  let total = 0;
  for (let i = 0; i < values.length; i++) {
    const v = values[i]!;
    total += v * v;
    sum[i + 1] = total;
  }
  return sum;
}

/**
 * Level of the loud part of a signal: the mean square of 20 ms blocks that is exceeded during 0.2 s or 4 %
 * of the sounding time, whichever is longer. Silence does not lower it and a knock (shorter than 0.2 s)
 * does not raise it.
 */
export function loudPower(energy: Float64Array): { power: number; blocks: Float64Array } {
  const count = Math.floor((energy.length - 1) / SOUNDING_BLOCK);
  const blocks = new Float64Array(count);
  for (let b = 0; b < count; b++)
    blocks[b] = (energy[(b + 1) * SOUNDING_BLOCK]! - energy[b * SOUNDING_BLOCK]!) / SOUNDING_BLOCK;
  const sorted = Float64Array.from(blocks).sort().reverse();
  if (count === 0) return { power: 0, blocks };
  const first = sorted[Math.min(9, count - 1)]!;
  let sounding = 0;
  while (sounding < count && sorted[sounding]! > first * 1e-4) sounding++;
  const rank = Math.max(Math.min(9, count - 1), Math.floor(0.04 * sounding));
  return { power: sorted[Math.min(rank, count - 1)]!, blocks };
}

/**
 * @param input mono samples at {@link WORK_RATE}, finite; not changed
 * @param scaled by what the whole is scaled, where this is a stretch of it; else it is measured here
 */
export function prepare(input: Float32Array, scaled: number | null = null): Prepared {
  const samples = singles(input);
  createHighPass(30, WORK_RATE)(samples);
  const raw = runningEnergy(samples);
  const { power: own, blocks } = loudPower(raw);
  const gain = scaled ?? (own > 0 ? REFERENCE_RMS / Math.sqrt(own) : 1);
  const power = scaled === null ? own : (REFERENCE_RMS / scaled) ** 2;
  const edges = doubles(samples.length + 1);
  let before = 0;
  let total = 0;
  const energy = raw;
  for (let i = 0; i < samples.length; i++) {
    const now = samples[i]! * gain;
    samples[i] = now;
    total += (now - before) * (now - before);
    edges[i + 1] = total;
    energy[i + 1] = energy[i + 1]! * gain * gain;
    before = now;
  }
  const sounding = Uint8Array.from(blocks, (b) => (b > power * 1e-4 ? 1 : 0));
  return { samples, gain, energy, edges, half: halve(samples), sounding };
}

/** Mean level of a running sum between two instants given in samples, dB; clamped to the signal. */
export function levelBetween(sum: Float64Array, from: number, to: number): number {
  const last = sum.length - 1;
  const a = Math.min(last, Math.max(0, Math.round(from)));
  const b = Math.min(last, Math.max(0, Math.round(to)));
  const mean = b > a ? Math.max(0, sum[b]! - sum[a]!) / (b - a) : 0;
  return 10 * Math.log10(mean + FLOOR_POWER);
}

/** Samples at the working rate in so many milliseconds. */
export const ms = (time: number): number => (time * WORK_RATE) / 1000;
