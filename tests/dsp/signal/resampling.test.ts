import { describe, expect, it } from 'vitest';
import { createHalver, createResampler, halve } from '../../../src/dsp/index.ts';

const tone = (hertz: number, rate: number, length: number): Float32Array =>
  Float32Array.from({ length }, (_, i) => Math.sin((2 * Math.PI * hertz * i) / rate));

function resample(signal: Float32Array, from: number, to: number, size = signal.length): Float32Array {
  const resampler = createResampler(from, to);
  const out: number[] = [];
  for (let at = 0; at < signal.length; at += size)
    resampler.push(signal.subarray(at, at + size), (part) => out.push(...part));
  resampler.finish((part) => out.push(...part));
  return Float32Array.from(out);
}
/** Greatest error against the ideal tone, away from the ends. */
const error = (got: Float32Array, ideal: Float32Array): number =>
  got.subarray(200, got.length - 200).reduce((e, x, i) => Math.max(e, Math.abs(x - ideal[i + 200]!)), 0);

describe('changes of sample rate', () => {
  it.each([
    [48_000, 44_100, 1000],
    [8000, 44_100, 1000],
    [192_000, 44_100, 5000],
    [44_100, 48_000, 12_000],
    [44_056, 44_100, 440],
  ])('%i to %i Hz keeps a tone of %i Hz in place within −60 dB', (from, to, hertz) => {
    const got = resample(tone(hertz, from, 6000), from, to);
    expect(got.length).toBe(Math.ceil((6000 * to) / from - 1e-9));
    expect(error(got, tone(hertz, to, got.length))).toBeLessThan(0.001);
  });

  it('removes what would alias', () => {
    const got = resample(tone(23_500, 48_000, 6000), 48_000, 44_100);
    expect(error(got, new Float32Array(got.length))).toBeLessThan(0.01);
    const half = halve(tone(15_000, 44_100, 6000));
    expect(error(half, new Float32Array(half.length))).toBeLessThan(0.002);
  });

  it('does not depend on the blocks', () => {
    const signal = tone(700, 48_000, 5000);
    const whole = resample(signal, 48_000, 44_100);
    for (const size of [1, 77, 128, 4999]) expect(resample(signal, 48_000, 44_100, size)).toEqual(whole);
    const halves: number[] = [];
    const halver = createHalver();
    for (let at = 0; at < signal.length; at += 77)
      halver.push(signal.subarray(at, at + 77), (part) => halves.push(...part));
    halver.finish((part) => halves.push(...part));
    expect(Float32Array.from(halves)).toEqual(halve(signal));
  });

  it('refuses rates nobody has', () => {
    expect(() => createResampler(1000, 44_100)).toThrow(RangeError);
  });
});
