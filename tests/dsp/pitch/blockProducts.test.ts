import { describe, expect, it } from 'vitest';
import { LARGEST_LAG, createBlockProducts } from '../../../src/dsp/pitch/blockProducts.ts';
import { HOP } from '../../../src/dsp/signal/prepared.ts';
import { noiseSource } from '../bleed/scene.ts';

const LAGS = 736;
const noise = noiseSource(3);
const rustle = Float64Array.from({ length: 20 * HOP }, () => noise());

/** The definition; silence follows the signal. */
function multipliedOut(x: Float64Array, block: number, lag: number): number {
  let sum = 0;
  for (let i = block * HOP; i < (block + 1) * HOP; i++) sum += (x[i] ?? 0) * (x[i + lag] ?? 0);
  return sum;
}

/** Farthest from the definition over some blocks, over the most that any product can be. */
function worst(x: Float64Array, blocks: number): number {
  const products = createBlockProducts(x);
  const out = new Float64Array(LAGS);
  const energy = x.reduce((sum, v) => sum + v * v, 1e-300);
  let far = 0;
  for (let b = 0; b < blocks; b++) {
    products.next(out);
    out.forEach((value, lag) => (far = Math.max(far, Math.abs(value - multipliedOut(x, b, lag)))));
  }
  return far / energy;
}

describe('products of blocks', () => {
  it.each<[string, Float64Array]>([
    ['noise', rustle],
    ['a tone', rustle.map((_, i) => Math.sin(i / 9))],
    ['direct current', rustle.map(() => 0.7)],
    ['every other sample of the other sign', rustle.map((_, i) => (i % 2 ? -1 : 1))],
    ['one sample', rustle.map((_, i) => (i === 1000 ? 1 : 0))],
    ['silence after something loud', rustle.map((v, i) => (i < 500 ? 1e3 * v : 0))],
    ['something soft after something loud', rustle.map((v, i) => (i < 500 ? 1e3 : 1e-3) * v)],
    ['denormal numbers', rustle.map((v) => v * 1e-310)],
    ['a signal shorter than a block', rustle.subarray(0, 50)],
    ['no signal', new Float64Array(0)],
  ])('are what multiplying out gives: %s', (_, x) => {
    // 20 blocks: the kept sums of two and of four have gone round more than once.
    expect(worst(x, 20)).toBeLessThan(1e-15);
  });

  it('reach as far as they say, and no further', () => {
    const products = createBlockProducts(rustle);
    const all = new Float64Array(8 * HOP);
    products.next(all);
    expect(all[LARGEST_LAG]).toBeCloseTo(multipliedOut(rustle, 0, LARGEST_LAG), 12);
    expect(Math.abs(all[LARGEST_LAG + 20]! - multipliedOut(rustle, 0, LARGEST_LAG + 20))).toBeGreaterThan(
      1e-3,
    );
  });

  it('do not touch one another when two signals are taken in turns', () => {
    const other = rustle.map((v) => -3 * v);
    const a = createBlockProducts(rustle);
    const b = createBlockProducts(other);
    const [ofA, ofB] = [new Float64Array(LAGS), new Float64Array(LAGS)];
    for (let block = 0; block < 12; block++) {
      a.next(ofA);
      b.next(ofB);
    }
    for (const lag of [0, 1, 400, LAGS - 1]) {
      expect(ofA[lag]).toBeCloseTo(multipliedOut(rustle, 11, lag), 10);
      expect(ofB[lag]).toBeCloseTo(multipliedOut(other, 11, lag), 10);
    }
  });
});
