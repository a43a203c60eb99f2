import { describe, expect, it } from 'vitest';
import { createRealFft } from '../../../src/dsp/index.ts';

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
      expect(power).toBe(k < count ? fft.spectrum[2 * k] ** 2 + fft.spectrum[2 * k + 1] ** 2 : -1),
    );
  });

  it('is undone by its inverse', () => {
    fft.input.set(signal);
    fft.forward();
    fft.inverse();
    signal.forEach((x, i) => expect(fft.input[i]).toBeCloseTo(x, 12));
  });

  it.each([0, 7, 12, 2 ** 21, NaN])('refuses a size of %d', (size) => {
    expect(() => createRealFft(size)).toThrow(/power of two from 8 to 1048576/);
  });
});
