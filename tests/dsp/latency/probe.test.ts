import { describe, expect, it } from 'vitest';
import { makeProbe } from '../../../src/dsp/latency/index.ts';

const RATES = [16_000, 44_100, 48_000, 96_000];
const rmsDb = (x: Float32Array): number => 10 * Math.log10(x.reduce((s, v) => s + v * v, 0) / x.length);

describe('the sound that is sent to measure the round trip', () => {
  it('is at most −20 dBFS RMS over the whole and over any 50 ms of it', () => {
    for (const rate of RATES) {
      const { samples } = makeProbe(rate);
      expect(rmsDb(samples)).toBeLessThanOrEqual(-20);
      const window = Math.round(0.05 * rate);
      for (let from = 0; from + window <= samples.length; from += window >> 2)
        expect(rmsDb(samples.subarray(from, from + window))).toBeLessThanOrEqual(-20);
    }
  });
  it('ends within 2 s, in silence', () => {
    for (const rate of RATES) {
      const { samples, sampleRate } = makeProbe(rate);
      expect(samples.length / sampleRate).toBeLessThanOrEqual(2);
      expect(Math.max(...samples.subarray(-Math.round(0.001 * rate)).map(Math.abs))).toBeLessThan(0.001);
    }
  });
  it('fades in: each 10 ms of its first 100 is louder than the one before, from under −60 dBFS', () => {
    for (const rate of RATES) {
      const { samples } = makeProbe(rate);
      const window = Math.round(0.01 * rate);
      const levels = Array.from({ length: 10 }, (_, i) =>
        rmsDb(samples.subarray(i * window, (i + 1) * window)),
      );
      expect(levels[0]).toBeLessThan(-60);
      for (let i = 1; i < levels.length; i++) expect(levels[i]).toBeGreaterThan(levels[i - 1]!);
    }
  });
  it('refuses a rate that it cannot be made at', () => {
    for (const rate of [NaN, 0, 8000, 200_000]) expect(() => makeProbe(rate)).toThrow(RangeError);
  });
});
