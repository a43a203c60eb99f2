import { describe, expect, it } from 'vitest';
import { correlations } from '../../../src/dsp/signal/correlations.ts';
import { noiseSource } from '../bleed/scene.ts';

const noise = noiseSource(7);
const x = Float32Array.from({ length: 400 }, () => noise());

function correlate(at: number, from: number, length: number, count: number, signal = x): Float64Array {
  const out = new Float64Array(count);
  correlations(signal, at, from, length, count, 1e-9, out);
  return out;
}

describe('normalised correlation', () => {
  it.each([
    [0, 0, 1, 1],
    [200, 3, 30, 4],
    [200, 100, 75, 43],
    [10, 200, 101, 100],
    [325, 325, 75, 1],
  ])(
    'agrees with the definition: piece at %d, others from %d, %d long, %d of them',
    (at, from, length, count) => {
      correlate(at, from, length, count).forEach((r, k) => {
        let [dot, own, other] = [0, 0, 0];
        for (let i = 0; i < length; i++) {
          dot += x[at + i]! * x[from + k + i]!;
          own += x[at + i]! ** 2;
          other += x[from + k + i]! ** 2;
        }
        expect(r).toBeCloseTo(dot / Math.sqrt(own * other + 1e-9), 12);
      });
    },
  );

  it('is 0 where one of the two is silent, also just after something loud', () => {
    const loudThenSilent = Float32Array.from({ length: 300 }, (_, i) => (i < 100 ? 50 * Math.sin(i) : 0));
    for (const r of correlate(20, 100, 60, 80, loudThenSilent)) expect(r).toBe(0);
    for (const r of correlate(150, 0, 60, 30, loudThenSilent)) expect(r).toBe(0);
  });

  it('takes longer pieces than any before', () => {
    const tone = Float32Array.from({ length: 9000 }, (_, i) => Math.sin(i / 20));
    const found = correlate(0, 0, 8000, 1000, tone);
    expect(found[0]).toBeCloseTo(1, 9);
    expect(found[Math.round(40 * Math.PI)]).toBeCloseTo(1, 3);
    expect(found[Math.round(20 * Math.PI)]).toBeCloseTo(-1, 3);
  });
});
