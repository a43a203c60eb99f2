import { describe, expect, it } from 'vitest';
import { partialHz } from '../../../src/dsp/chords/partials.ts';
import { readNetwork, score } from '../../../src/dsp/chords/network.ts';
import { frameStarts, strongestPeaks, strumSpectrum } from '../../../src/dsp/chords/strumSpectrum.ts';
import { tuningOf } from '../../../src/dsp/chords/tuning.ts';
import { soundsDriven } from '../../../src/dsp/chords/driven.ts';

const RATE = 44_100;
const sines = (hz: readonly number[], amplitude = 0.1): Float32Array =>
  Float32Array.from({ length: 2 * RATE }, (_, i) =>
    hz.reduce((s, f, k) => s + amplitude * Math.sin((2 * Math.PI * f * i) / RATE + k), 0),
  );

describe('the spectrum of a strum', () => {
  it('gives a sine its own level and place', () => {
    for (const hz of [82.4, 220.3, 1234.5]) {
      const [peak] = strongestPeaks(strumSpectrum(sines([hz], 0.5), 0, 2 * RATE).db, 2000, 1);
      expect(1200 * Math.abs(Math.log2(peak!.hz / hz))).toBeLessThan(hz < 100 ? 2 : 0.5);
      // Half-bin steps and a parabola: the Hann window's scalloping left is under 0.05 dB.
      expect(peak!.db).toBeCloseTo(20 * Math.log10(0.5), 1);
    }
  });

  it('stands on a floor that peaks do not lift', () => {
    const { floorDb, db } = strumSpectrum(sines([200, 400, 600, 800]), 0, 2 * RATE);
    expect(Math.max(...db) - Math.max(...floorDb.slice(100, 800))).toBeGreaterThan(30);
  });

  it('opens its windows only while the strum sounds', () => {
    for (const sounding of [0.3, 0.46, 0.6, 1, 3])
      for (const start of frameStarts(sounding * RATE).slice(1))
        expect(start + 16_384).toBeLessThanOrEqual(sounding * RATE);
    expect(frameStarts(0.1 * RATE)).toHaveLength(1);
    expect(frameStarts(5 * RATE)).toHaveLength(8);
  });
});

describe('tuning', () => {
  it.each([-45, -20, 0, 7, 33, 48])(
    'is the distance of all strings from equal temperament: %i cents',
    (cents) => {
      const chord = [40, 47, 52, 56, 59, 64].map((midi) => partialHz(midi, 1, cents));
      const { db } = strumSpectrum(sines(chord, 0.05), 0, 2 * RATE);
      const heard = tuningOf(db);
      expect(Math.abs(heard.cents - cents)).toBeLessThan(2.5);
      // Six bare sines leave the window’s own lobes (−31 dB) among the 24 peaks, and those lie anywhere.
      expect(heard.confidence).toBeGreaterThan(0.6);
    },
  );

  it('is not claimed where strings disagree', () => {
    const wild = [40, 45.5, 50.25, 55.75, 59.1, 64.6].map((midi) => partialHz(midi, 1, 0));
    expect(tuningOf(strumSpectrum(sines(wild, 0.05), 0, 2 * RATE).db).confidence).toBeLessThan(0.5);
    expect(tuningOf(new Float64Array(3900).fill(-200)).confidence).toBe(0);
  });
});

describe('the network', () => {
  const data = { sizes: [2, 2, 1], scale: 10, numbers: '0 10 10 20 10 0 0 -10 5 0 20 30 -5' };
  it('is what its numbers say: standardised, leaky, weighted', () => {
    // (x − mean) / deviation = (3, (4 − 1) / 2) = (3, 1.5); hidden (3 + .5, −1.5 → −.075); 2 · 3.5 + 3 · −.075 − .5
    expect(score(readNetwork(data), Float64Array.from([3, 4]))).toBeCloseTo(6.275, 10);
  });
  it('refuses data of another size', () => {
    expect(() => readNetwork({ ...data, numbers: '1 2 3' })).toThrow(/too few/);
    expect(() => readNetwork({ ...data, numbers: `${data.numbers} 7` })).toThrow(/14 numbers, not 13/);
  });
});

describe('overdrive', () => {
  it('flattens the wave: a clipped chord is taken for driven, six plain strings are not', () => {
    const chord = sines(
      [40, 47, 52, 56, 59, 64].map((midi) => partialHz(midi, 1, 0)),
      0.1,
    );
    expect(soundsDriven(chord, 0)).toBe(false);
    expect(
      soundsDriven(
        chord.map((x) => Math.tanh(20 * x)),
        0,
      ),
    ).toBe(true);
    expect(soundsDriven(new Float32Array(RATE), 0)).toBe(false);
  });
});
