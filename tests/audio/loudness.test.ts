import { describe, expect, it } from 'vitest';
import { kFilters } from '../../src/audio/render/loudness/kWeighting.ts';
import { gatingBlocks, integratedLoudness } from '../../src/audio/render/loudness/loudness.ts';
import { truePeak } from '../../src/audio/render/loudness/truePeak.ts';
import { ebur128, hasFfmpeg } from '../support/ebur128.ts';

const sine = (hertz: number, amplitude: number, seconds: number, rate: number, phase = 0): Float32Array =>
  Float32Array.from(
    { length: seconds * rate },
    (_, i) => amplitude * Math.sin((2 * Math.PI * hertz * i) / rate + phase),
  );
const loudnessOf = (samples: Float32Array, rate: number): number | null =>
  integratedLoudness(gatingBlocks(samples, rate));

describe('loudness', () => {
  it('has the filter coefficients that ITU-R BS.1770 prints for 48 kHz', () => {
    const [shelf, highPass] = kFilters(48_000);
    const printed = [
      {
        b0: 1.53512485958697,
        b1: -2.69169618940638,
        b2: 1.19839281085285,
        a1: -1.69065929318241,
        a2: 0.73248077421585,
      },
      { b0: 1, b1: -2, b2: 1, a1: -1.99004745483398, a2: 0.99007225036621 },
    ];
    [shelf, highPass].forEach((filter, i) => {
      for (const [name, value] of Object.entries(printed[i]!))
        expect(filter[name as 'b0'], name).toBeCloseTo(value, 8);
    });
  });

  it.each([44_100, 48_000, 96_000])('reads −3.01 LUFS for a full-scale 997 Hz sine at %i Hz', (rate) => {
    expect(loudnessOf(sine(997, 1, 5, rate), rate)).toBeCloseTo(-3.01, 1);
  });

  it('does not count silence: a tone with a longer pause is as loud as the tone', () => {
    const tone = sine(997, 0.1, 5, 48_000);
    const paused = new Float32Array(20 * 48_000);
    paused.set(tone);
    expect(loudnessOf(paused, 48_000)).toBeCloseTo(loudnessOf(tone, 48_000)!, 0);
  });

  it('does not count what lies 10 LU under the rest (EBU Tech 3341, case 3, its middle 24 s)', () => {
    const programme = new Float32Array(32 * 48_000);
    const soft = sine(1000, 10 ** (-33 / 20), 4, 48_000);
    programme.set(soft);
    programme.set(sine(1000, 10 ** (-20 / 20), 24, 48_000), 4 * 48_000);
    programme.set(soft, 28 * 48_000);
    // One channel at −20 dBFS is as loud as two at −23 dBFS: −23 LUFS.
    expect(Math.abs(loudnessOf(programme, 48_000)! + 23)).toBeLessThan(0.1);
  });

  it('is null for silence and for less than one block', () => {
    expect(loudnessOf(new Float32Array(48_000), 48_000)).toBeNull();
    expect(loudnessOf(sine(997, 1, 0.3, 48_000), 48_000)).toBeNull();
  });

  it('finds the peak between samples: a quarter-rate sine sampled at 45° reads 0 dBTP, not −3', () => {
    const tone = sine(12_000, 1, 0.1, 48_000, Math.PI / 4);
    expect(Math.max(...tone)).toBeCloseTo(Math.SQRT1_2, 5);
    // Faded: a hard start or end truly overshoots. BS.1770 allows a meter +0.2/−0.4 dB.
    expect(
      20 * Math.log10(truePeak(tone.map((x, i) => x * Math.min(1, i / 500, (tone.length - i) / 500)))),
    ).toBeCloseTo(0, 1);
  });

  it.skipIf(!hasFfmpeg())('agrees with ffmpeg’s ebur128 within 0.1 LU and 0.2 dB on music-like noise', () => {
    // A deterministic noise that comes and goes, so that gating matters.
    let state = 1;
    const noise = Float32Array.from({ length: 12 * 48_000 }, (_, i) => {
      state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
      return (state / 2 ** 31 - 1) * (0.02 + 0.4 * Math.max(0, Math.sin(i / 9000)) ** 4);
    });
    const theirs = ebur128(noise, 48_000);
    expect(Math.abs(loudnessOf(noise, 48_000)! - theirs.lufs)).toBeLessThan(0.1);
    expect(Math.abs(20 * Math.log10(truePeak(noise)) - theirs.truePeakDb)).toBeLessThan(0.2);
  });
});
