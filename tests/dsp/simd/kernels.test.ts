import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { plainBandFrames, simdBandFrames } from '../../../src/dsp/frames/bandFrames.ts';
import { triangles } from '../../../src/dsp/frames/bands.ts';
import { plainSpectra, simdSpectra } from '../../../src/dsp/pitch/comb.ts';
import { plainBlockProducts, simdBlockProducts } from '../../../src/dsp/pitch/blockProducts.ts';
import { HOP } from '../../../src/dsp/signal/prepared.ts';
import { createSimd, fillTables, tableSizes } from '../../../src/dsp/simd/instance.ts';
import { hann } from '../../../src/dsp/spectrum/hann.ts';
import { noiseSource } from '../bleed/scene.ts';
import { compileKernels, MODULE_PATH, moduleText } from '../../support/simd.ts';

const noise = noiseSource(11);
const RATE = 44_100;
/** A decaying tone over noise 70 dB under it. */
const sounding = (length: number): Float32Array =>
  Float32Array.from({ length }, (_, i) => Math.sin(i / 9) * Math.exp(-i / 20_000) + 3e-4 * noise());
/** 32-bit sums lose no more than this of the loudest, −114 dB. */
const LOST = 2e-6;

const greatest = (values: ArrayLike<number>): number =>
  Array.from(values).reduce((top, v) => Math.max(top, Math.abs(v)), 0);
const farthest = (a: ArrayLike<number>, b: ArrayLike<number>): number =>
  Array.from(a).reduce((far, v, i) => Math.max(far, Math.abs(v - b[i]!)), 0);

describe('the compiled kernels', () => {
  it('are compiled from the source beside them', async () => {
    expect(readFileSync(MODULE_PATH, 'utf8')).toBe(moduleText(await compileKernels()));
  });

  it.each([
    ['2048 samples, magnitudes', 2048, true, 24],
    ['512 samples, powers', 512, false, 3],
  ] as const)('give the bands that plain code gives: %s', (_, size, root, perOctave) => {
    const bank = triangles(size, RATE, 60, 15_000, perOctave);
    const options = { size, window: hann(size), bank, root };
    const simd = simdBandFrames(options)!;
    const plain = plainBandFrames(options);
    for (const length of [0, 1, 700, 40_007]) {
      const samples = sounding(length);
      const frames = Math.floor(length / HOP) + 4;
      const expected = plain.of(samples, frames);
      const got = simd.of(samples, frames);
      expect(got).toHaveLength(expected.length);
      expect(farthest(got, expected)).toBeLessThanOrEqual(LOST * greatest(expected));
    }
  });

  it('give the products of blocks that plain code gives, two signals in turn', () => {
    const LAGS = 736;
    const signals = [sounding(50 * HOP), sounding(45 * HOP + 5)].map((x) => Float64Array.from(x));
    const simd = signals.map((x) => simdBlockProducts(x, LAGS)!);
    const plain = signals.map((x) => plainBlockProducts(x));
    const [got, expected] = [new Float64Array(LAGS), new Float64Array(LAGS)];
    for (let block = 0; block < 52; block++)
      for (const k of [0, 1]) {
        simd[k]!.next(got);
        plain[k]!.next(expected);
        expect(farthest(got, expected)).toBeLessThan(LOST * HOP);
      }
  });

  it('give the spectra that plain code gives, and none past the end', () => {
    const samples = sounding(8000);
    const pieces = [
      [
        [-300, 2000],
        [2400, 4900],
      ],
      [
        [6000, 7500],
        [7900, 8400],
      ],
      [
        [6000, 7500],
        [8000, 9000],
      ],
    ] as const;
    for (const [before, after] of pieces) {
      const got = simdSpectra()!.around(samples, before, after);
      const expected = plainSpectra().around(samples, before, after);
      for (const place of ['before', 'after'] as const) {
        expect(got[place].scale).toBe(expected[place].scale);
        if (Number.isNaN(expected[place].power[7])) {
          expect(got[place].power.every(Number.isNaN)).toBe(true);
          continue;
        }
        const top = greatest(expected[place].power);
        expect(farthest(got[place].power, expected[place].power)).toBeLessThan(LOST * top);
      }
    }
  });

  it('want twice a power of four samples', () => {
    const simd = createSimd(tableSizes(32))!;
    expect(() => fillTables(simd, 32)).toThrow(RangeError);
  });

  it('are done without where there is no WebAssembly', () => {
    const { WebAssembly: own } = globalThis;
    try {
      Reflect.deleteProperty(globalThis, 'WebAssembly');
      expect(createSimd({ any: 4 })).toBeNull();
    } finally {
      globalThis.WebAssembly = own;
    }
  });
});
