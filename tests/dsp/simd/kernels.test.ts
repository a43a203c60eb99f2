import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { plainBandFrames, simdBandFrames } from '../../../src/dsp/frames/bandFrames.ts';
import { triangles } from '../../../src/dsp/frames/bands.ts';
import { plainSpectra, simdSpectra, type Around } from '../../../src/dsp/pitch/comb.ts';
import type { BlockProducts } from '../../../src/dsp/pitch/blockProducts.ts';
import { plainPitchRows } from '../../../src/dsp/pitch/plainPitchRows.ts';
import { simdPitchRows } from '../../../src/dsp/pitch/simdPitchRows.ts';
import { burg, carryOn, plainBurg, plainCarryOn } from '../../../src/dsp/signal/burg.ts';
import { correlations, plainCorrelations } from '../../../src/dsp/signal/correlations.ts';
import { plainHarmonics, simdHarmonics } from '../../../src/dsp/signal/goertzel.ts';
import { plainHalve, simdHalve } from '../../../src/dsp/signal/halve.ts';
import {
  plainWholeResampler,
  resampledWhole,
  simdWholeResampler,
} from '../../../src/dsp/signal/resampleWhole.ts';
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

/** Products of blocks multiplied out in 32-bit sums, sample after sample. */
function singleProducts(x: Float64Array): BlockProducts {
  const single = Float32Array.from(x);
  let block = 0;
  return {
    next(out) {
      const from = HOP * block++;
      for (let lag = 0; lag < out.length; lag++) {
        let sum = 0;
        for (let i = from; i < from + HOP; i++)
          sum = Math.fround(sum + Math.fround((single[i] ?? 0) * (single[i + lag] ?? 0)));
        out[lag] = sum;
      }
    },
  };
}

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

  it('give the salience of every pitch that plain code gives, whatever was heard before', () => {
    for (const length of [0, 5, 6 * HOP, 6 * HOP + 1, 70 * HOP - 1, 70 * HOP, 30_011]) {
      const half = sounding(length).map((v) => v / 3);
      const expected = plainPitchRows(half);
      const got = simdPitchRows(half)!;
      expect(got.raw).toHaveLength(expected.raw.length);
      expect(got.power).toEqual(expected.power);
      expect(farthest(got.raw, expected.raw)).toBeLessThan(2e-4);
      expect(farthest(got.best, expected.best)).toBeLessThan(2e-4);
    }
  });

  it('give to the last bit what plain code gives of the same products', () => {
    const half = sounding(80 * HOP + 3).map((v, i) => v * (i % 5000 < 2500 ? 1 : 1e-3));
    const got = simdPitchRows(half)!;
    const expected = plainPitchRows(half, singleProducts);
    expect(got.raw).toEqual(expected.raw);
    expect(got.best).toEqual(expected.best);
  });

  it.each([
    [48_000, 44_100],
    [96_000, 44_100],
    [22_050, 44_100],
    [16_000, 44_100],
    [8000, 44_100],
    [192_000, 44_100],
    [44_100, 48_000],
  ])('change the rate as plain code does, to the last bit: %d to %d Hz', (from, to) => {
    const simd = simdWholeResampler(from, to)!;
    const plain = plainWholeResampler(from, to);
    for (const length of [0, 1, 50, 9001, 3211]) {
      const signal = sounding(length);
      expect(simd.of(signal)).toEqual(plain.of(signal));
    }
  });

  it('leave rates with little in common to plain code', () => {
    expect(simdWholeResampler(44_099, 44_100)).toBeNull();
    const signal = sounding(900);
    expect(resampledWhole(signal, 44_099, 44_100)).toEqual(plainWholeResampler(44_099, 44_100).of(signal));
  });

  it('halve a signal as plain code does, to the last bit', () => {
    for (const length of [0, 1, 2, 47, 4096, 4097, 10_001]) {
      const signal = sounding(length);
      expect(simdHalve(signal)).toEqual(plainHalve(signal));
    }
  });

  it.each([
    [0, 0, 1, 1],
    [2000, 1500, 700, 9],
    [100, 40, 333, 317],
    [10, 2000, 101, 100],
  ])(
    'correlate as plain code does, to the last bit: from %d and %d, %d long, %d of them',
    (at, from, length, count) => {
      const signal = sounding(4000);
      const [got, expected] = [new Float64Array(count), new Float64Array(count)];
      correlations(signal, at, from, length, count, 1e-9, got);
      plainCorrelations(signal, at, from, length, count, 1e-9, expected);
      expect(got).toEqual(expected);
    },
  );

  it.each([
    [500, 0.004, 8],
    [-100, 0.01, 8],
    [-2000, 0.01, 4],
    [90, 0.1, 8],
    [90, 0.46, 6],
  ])(
    'give the harmonics that plain code gives, to the last bit: from %d on, %d cycles a sample',
    (start, cycles, most) => {
      const signal = sounding(2000);
      for (const taper of [hann(1058), hann(700)]) {
        const expected = plainHarmonics(signal, start, taper, cycles, most);
        const got = simdHarmonics(signal, start, taper, cycles, most)!;
        expect(got.count).toBe(expected.count);
        expect([...got.last]).toEqual([...expected.last]);
        expect([...got.before]).toEqual([...expected.before]);
      }
    },
  );

  it.each([
    [1, 0],
    [500, 120],
    [81, 24],
    [25, 24],
  ])('foretell as plain code does, to the last bit: %d samples, %d coefficients', (length, order) => {
    const wave = Float64Array.from(sounding(length + 300));
    const expected = plainBurg(wave.subarray(0, length), order);
    const got = burg(wave.subarray(0, length), order);
    expect([...got.a]).toEqual([...expected.a]);
    expect(got.gain).toBe(expected.gain);
    const [carried, plainly] = [wave.slice(), wave.slice()];
    carryOn(carried, length, length + 200, got.a);
    plainCarryOn(plainly, length, length + 200, expected.a);
    expect([...carried]).toEqual([...plainly]);
  });

  it('give the spectra that plain code gives, two pairs at a time, and none past the end', () => {
    const samples = sounding(8000);
    const pairs = [
      { before: [-300, 2000], after: [2400, 4901] },
      { before: [6000, 7500], after: [7900, 8400] },
      { before: [6000, 7500], after: [8000, 9000] },
      { before: [7000, 7002], after: [7998, 8003] },
    ] as const;
    for (const some of [pairs, pairs.slice(1), pairs.slice(3), []]) {
      const plain = plainSpectra().of(samples, some)[Symbol.iterator]();
      let count = 0;
      for (const got of simdSpectra()!.of(samples, some)) {
        const expected = plain.next().value as Around;
        count++;
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
      expect(count).toBe(some.length);
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
