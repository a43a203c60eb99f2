import { describe, expect, it } from 'vitest';
import { convolve, correlate } from '../../../src/dsp/bleed/convolve.ts';
import { solveToeplitz } from '../../../src/dsp/bleed/room.ts';
import { fitTimeMap, lagAt } from '../../../src/dsp/bleed/timeMap.ts';
import { resample, warp } from '../../../src/dsp/bleed/warp.ts';
import { inverseFilter, predictor } from '../../../src/dsp/signal/predictor.ts';
import { noiseSource } from './scene.ts';

const noise = (seed: number, length: number): Float64Array => {
  const next = noiseSource(seed);
  return Float64Array.from({ length }, next);
};

describe('convolution and correlation in blocks', () => {
  const x = noise(1, 10_000);
  const h = noise(2, 300);
  it('equal the sums that define them', () => {
    const y = convolve(x, h);
    const c = correlate(y, x, 300);
    for (const n of [0, 1, 299, 300, 4096, 9999]) {
      let sum = 0;
      for (let k = 0; k < h.length && k <= n; k++) sum += h[k]! * x[n - k]!;
      expect(y[n]).toBeCloseTo(sum, 9);
    }
    for (const k of [0, 17, 299]) {
      let sum = 0;
      for (let n = 0; n + k < y.length; n++) sum += y[n + k]! * x[n]!;
      expect(c[k]).toBeCloseTo(sum, 6);
    }
  });
});

describe('reading at fractional places', () => {
  it('gives a sine within −80 dB of the formula', () => {
    const tone = Float64Array.from({ length: 2000 }, (_, n) => Math.sin(0.9 * n));
    const shifted = warp(tone, 2000, (n) => n + 0.37);
    let worst = 0;
    for (let n = 100; n < 1900; n++)
      worst = Math.max(worst, Math.abs(shifted[n]! - Math.sin(0.9 * (n + 0.37))));
    expect(worst).toBeLessThan(1e-4);
  });
  it('changes 48 kHz to 24 kHz without moving or aliasing', () => {
    const tone = (hertz: number): Float64Array =>
      Float64Array.from({ length: 9600 }, (_, n) => Math.sin((2 * Math.PI * hertz * n) / 48_000));
    const low = resample(tone(1000), 48_000, 24_000);
    for (const n of [1000, 2001]) expect(low[n]).toBeCloseTo(Math.sin((2 * Math.PI * 1000 * n) / 24_000), 3);
    const above = resample(tone(15_000), 48_000, 24_000).subarray(200, 4600);
    expect(Math.max(...above.map(Math.abs))).toBeLessThan(1e-3);
  });
  it('refuses a cutoff outside (0, 1]', () => {
    expect(() => warp([1], 1, (n) => n, 0)).toThrow(RangeError);
  });
});

describe('least squares', () => {
  it('solves a Toeplitz system that was built from a known answer', () => {
    const n = 200;
    const column = Float64Array.from({ length: n }, (_, k) => 0.8 ** k + (k === 0 ? 0.5 : 0));
    const truth = noise(4, n);
    const right = truth.map((_, i) => truth.reduce((s, v, j) => s + v * column[Math.abs(i - j)]!, 0));
    solveToeplitz(column, right).forEach((v, i) => expect(v).toBeCloseTo(truth[i]!, 3));
  });
  it('whitens a resonance to within 1 % of the noise that drove it', () => {
    const drive = noise(7, 20_000);
    const signal = new Float64Array(drive.length);
    for (let n = 2; n < signal.length; n++)
      signal[n] = drive[n]! + 1.6 * signal[n - 1]! - 0.8 * signal[n - 2]!;
    const power = (x: Float64Array): number => x.reduce((s, v) => s + v * v, 0);
    expect(power(inverseFilter(signal, predictor(signal, 2))) / power(drive)).toBeCloseTo(1, 1);
  });
});

describe('the time map', () => {
  const at = Array.from({ length: 30 }, (_, i) => i * 16_800);
  const line = (n: number): number => 2400 + n * 30e-6;
  it('finds delay and drift through a fifth of wild lags', () => {
    const lags = at.map((n, i) => ({ at: n, lag: line(n) + (i % 5 === 0 ? 90 : 0), sureness: 10 }));
    const map = fitTimeMap(lags, 6)!;
    expect(map.drift * 1e6).toBeCloseTo(30, 0);
    expect(lagAt(map, 100_000)).toBeCloseTo(line(100_000), 0);
  });
  it('finds a jump of 64 samples and where it happened', () => {
    const lags = at.map((n) => ({ at: n, lag: line(n) + (n > 250_000 ? 64 : 0), sureness: 10 }));
    const map = fitTimeMap(lags, 6)!;
    expect(map.jumps).toHaveLength(1);
    expect(map.jumps[0]!.by).toBeGreaterThan(55);
    expect(lagAt(map, 480_000)).toBeCloseTo(line(480_000) + 64, 0);
  });
  it('is null when too few stretches are sure', () => {
    expect(
      fitTimeMap(
        at.map((n) => ({ at: n, lag: 0, sureness: 3 })),
        6,
      ),
    ).toBeNull();
  });
});
