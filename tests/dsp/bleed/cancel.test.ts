import { describe, expect, it } from 'vitest';
import { BLEED_RATE, cancelBacking } from '../../../src/dsp/bleed/index.ts';
import { resample } from '../../../src/dsp/bleed/warp.ts';
import { bleedOf, noiseSource, simpleBacking, simpleRoom, type Bleeding } from './scene.ts';

const RATE = 48_000;
const FROM = 12;
const reference = simpleBacking(5, RATE, 17, [[10, 11.5]]);

/** Decaying harmonic notes about half a second apart, as uneven as a good player (±15 ms), from `from` on. */
function plucks(from: number): Float32Array {
  const out = new Float32Array(reference.length);
  const uneven = noiseSource(21);
  for (let k = 0; 0.25 + k * 0.5 < 16.5; k++) {
    const start = 0.25 + k * 0.5 + 0.015 * uneven();
    if (start < from) continue;
    const f = 110 * 2 ** (((k * 5) % 12) / 12);
    for (let n = 0; n < 0.45 * RATE; n++)
      for (let h = 1; h < 10; h++)
        out[Math.round(start * RATE) + n]! +=
          (0.12 / h) * Math.sin((2 * Math.PI * f * h * n) / RATE) * Math.exp((-3 * n) / RATE);
  }
  return out;
}

function scene(how: Partial<Bleeding>, guitar: Float32Array, { sent = reference, from = FROM } = {}) {
  const bleed = bleedOf(sent, {
    rate: RATE,
    delaySec: 0.1234,
    driftPpm: 0,
    room: simpleRoom(3, RATE, 0.3),
    ...how,
  });
  const noise = noiseSource(9);
  const recording = bleed.map((v, n) => v + guitar[n]! + 0.001 * noise());
  const cancelled = cancelBacking(recording, sent, RATE, from)!;
  const at = (x: Float32Array): Float64Array => resample(x, RATE, BLEED_RATE).subarray(from * BLEED_RATE);
  const [g, b] = [at(guitar), at(bleed)];
  let before = 0;
  let after = 0;
  cancelled.left.forEach((v, n) => {
    before += b[n]! ** 2;
    after += (v - g[n]!) ** 2;
  });
  return { cancelled, erleDb: 10 * Math.log10(before / after) };
}

describe('taking the backing out', () => {
  it('leaves the guitar and removes a still room by 25 dB, with delay and drift measured', () => {
    const { cancelled, erleDb } = scene({ driftPpm: 50 }, plucks(FROM));
    expect(erleDb).toBeGreaterThan(25);
    expect(Math.abs(cancelled.driftPpm - 50)).toBeLessThan(1);
    expect(Math.abs(cancelled.delayMs - (123.4 + FROM * 50e-3))).toBeLessThan(0.5);
  });
  it('follows a capture glitch of 128 frames', () => {
    const { cancelled, erleDb } = scene({ glitch: { atSec: 10.5, samples: 128 } }, plucks(FROM));
    expect(erleDb).toBeGreaterThan(25);
    expect(Math.abs(cancelled.delayMs - 123.4 - 128 / 48)).toBeLessThan(0.5);
  });
  it('follows a buffer of 45 ms that is gained or dropped just before the take', () => {
    for (const ms of [45, -45]) {
      const { cancelled, erleDb } = scene({ glitch: { atSec: 11.9, samples: ms * 48 } }, plucks(FROM));
      expect(erleDb, `${ms}`).toBeGreaterThan(20);
      expect(Math.abs(cancelled.delayMs - 123.4 - ms), `${ms}`).toBeLessThan(0.5);
    }
  });
  it('follows a buffer of 20 ms that is gained or dropped between a short hearing and a long take', () => {
    for (const ms of [20, -20]) {
      const short = { sent: simpleBacking(5, RATE, 17, [[4, 5.5]]), from: 6 };
      const { cancelled, erleDb } = scene({ glitch: { atSec: 4.7, samples: ms * 48 } }, plucks(6), short);
      expect(erleDb, `${ms}`).toBeGreaterThan(15);
      expect(Math.abs(cancelled.delayMs - 123.4 - ms), `${ms}`).toBeLessThan(0.5);
    }
  });
  it('still removes 12 dB when the student played along through the hearing', () => {
    expect(scene({}, plucks(0)).erleDb).toBeGreaterThan(12);
  });
  it('finds nothing to take out of a guitar alone', () => {
    expect(cancelBacking(plucks(0), reference, RATE, FROM)).toBe(null);
  });
  it('refuses a take that starts outside the recording', () => {
    expect(() => cancelBacking(plucks(0), reference, RATE, 99)).toThrow(/inside the recording/);
  });
});
