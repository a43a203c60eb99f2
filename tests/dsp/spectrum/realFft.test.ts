import { describe, expect, it } from 'vitest';
import { createRealFft } from '../../../src/dsp/index.ts';
import { noiseSource } from '../bleed/scene.ts';

describe('the real Fourier transform', () => {
  const fft = createRealFft(64);
  const signal = Float64Array.from({ length: 64 }, (_, i) => Math.sin(0.1 * i * i) + 0.3);

  it('agrees with the definition in every bin', () => {
    fft.input.set(signal);
    fft.forward();
    for (let k = 0; k < fft.bins; k++) {
      let re = 0;
      let im = 0;
      signal.forEach((x, i) => {
        re += x * Math.cos((2 * Math.PI * i * k) / 64);
        im -= x * Math.sin((2 * Math.PI * i * k) / 64);
      });
      expect(fft.spectrum[2 * k]).toBeCloseTo(re, 10);
      expect(fft.spectrum[2 * k + 1]).toBeCloseTo(im, 10);
    }
  });

  it.each([0, 1, 2, 9, 32, 33])('gives the powers of the first %d bins and leaves the rest', (count) => {
    fft.input.set(signal);
    fft.forward();
    const into = new Float64Array(fft.bins).fill(-1);
    fft.powers(into, count);
    into.forEach((power, k) =>
      expect(power).toBe(k < count ? fft.spectrum[2 * k]! ** 2 + fft.spectrum[2 * k + 1]! ** 2 : -1),
    );
  });

  it('is undone by its inverse', () => {
    fft.input.set(signal);
    fft.forward();
    fft.inverse();
    signal.forEach((x, i) => expect(fft.input[i]).toBeCloseTo(x, 12));
  });

  it.each([8, 512, 1024, 2 ** 15])('is undone by its inverse at %d samples, whatever they are', (size) => {
    const long = createRealFft(size);
    const noise = noiseSource(size);
    for (const x of [
      () => noise(),
      () => 1,
      (i: number) => (i % 2 ? -1e6 : 1e6),
      (i: number) => (i === 5 ? 1 : 0),
    ]) {
      const given = Float64Array.from({ length: size }, (_, i) => x(i));
      long.input.set(given);
      long.forward();
      long.inverse();
      const top = given.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
      const far = given.reduce((most, v, i) => Math.max(most, Math.abs(long.input[i]! - v)), 0);
      expect(far).toBeLessThan(1e-14 * top);
    }
  });

  it.each([0, 7, 12, 2 ** 21, NaN])('refuses a size of %d', (size) => {
    expect(() => createRealFft(size)).toThrow(/power of two from 8 to 1048576/);
  });
});
