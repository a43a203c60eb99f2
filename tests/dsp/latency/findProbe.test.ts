import { describe, expect, it } from 'vitest';
import { makeRandom } from '../../../audio-fixtures/random.ts';
import { findProbe, makeProbe, type Probe } from '../../../src/dsp/latency/index.ts';
import { convolve } from '../../../src/dsp/bleed/convolve.ts';
import { simpleRoom } from '../bleed/scene.ts';

const RATE = 48_000;
/** The probe is sent here in every recording. */
const SENT_AT = 0.1 * RATE;
const probe = makeProbe(RATE);

interface Way {
  readonly tripSec: number;
  readonly gainDb: number;
  readonly noiseDb: number;
  readonly rt60?: number;
  /** Samples lost between the two glides. */
  readonly lost?: number;
}

/** What a microphone gives of the probe: delayed (also between samples), in a room, in noise. */
function recorded(
  seed: number,
  { tripSec, gainDb, noiseDb, rt60, lost = 0 }: Way,
  sent: Probe = probe,
): Float32Array {
  const random = makeRandom(seed);
  const rate = sent.sampleRate;
  const out = new Float32Array(Math.round(2.4 * rate));
  const room = rt60 === undefined ? null : simpleRoom(seed + 1, rate, rt60);
  const sound = room ? convolve(Float64Array.from(sent.samples), room) : sent.samples;
  const at = 0.1 * rate + tripSec * rate;
  const gain = 10 ** (gainDb / 20);
  for (let i = 0; i < out.length; i++) {
    const later = i > at + sent.samples.length / 2 ? lost : 0;
    const x = i - at + later;
    const k = Math.floor(x);
    // The probe's band ends at an eighth of the rate: a straight line between samples is exact enough.
    if (k >= 0 && k + 1 < sound.length) out[i] = gain * (sound[k]! * (1 - x + k) + sound[k + 1]! * (x - k));
    out[i]! += 10 ** (noiseDb / 20) * random.normal();
  }
  return out;
}

describe('finding the probe in what the microphone gave', () => {
  it('measures the true trip within its half-width and 0.6 ms, from soundcards to wireless, at 0 dB SNR and in a room', () => {
    for (let seed = 0; seed < 24; seed++) {
      const random = makeRandom(seed + 900);
      const tripSec = random.between(0.002, 0.35);
      // −24 dBFS less 26 dB through an earcup, in noise as loud as that; a third of them from some way off in a room.
      const room = seed % 3 === 0 ? { rt60: random.between(0.2, 0.6) } : {};
      const found = findProbe(
        recorded(seed, { tripSec, gainDb: -26, noiseDb: -50, ...room }),
        SENT_AT,
        probe,
      );
      expect(found, `seed ${seed}`).not.toBeNull();
      expect(Math.abs(found!.sec - tripSec)).toBeLessThan(0.0006);
      expect(Math.abs(found!.sec - tripSec)).toBeLessThanOrEqual(found!.halfWidthSec);
    }
  });
  it('holds at 44.1 kHz, and where the probe was sent between two samples', () => {
    const sent = makeProbe(44_100);
    const found = findProbe(recorded(5, { tripSec: 0.094, gainDb: -20, noiseDb: -60 }, sent), 4410, sent);
    expect(found!.sec).toBeCloseTo(0.094, 4);
    const between = findProbe(
      recorded(5, { tripSec: 0.094, gainDb: -20, noiseDb: -60 }),
      SENT_AT + 0.5,
      probe,
    );
    expect((0.094 - between!.sec) * RATE).toBeCloseTo(0.5, 1);
  });
  it('says nothing where the probe is not heard: silence, noise, a noise that comes and goes, other tones', () => {
    expect(findProbe(new Float32Array(2.4 * RATE), SENT_AT, probe)).toBeNull();
    for (let seed = 0; seed < 20; seed++) {
      const noise = recorded(seed, { tripSec: 0.1, gainDb: -200, noiseDb: -40 });
      expect(findProbe(noise, SENT_AT, probe), `noise ${seed}`).toBeNull();
      const random = makeRandom(seed);
      const [from, hz] = [random.between(0.1, 0.6), random.between(80, 900)];
      const other = noise.map((x, i) => {
        const t = i / RATE - from;
        const burst = t > 0 ? Math.exp(-4 * (t % 0.25)) : 0;
        const strings = [1, 2, 3, 4, 5, 6].reduce((s, h) => s + Math.sin(2 * Math.PI * hz * h * t) / h, 0);
        return seed % 2 ? 20 * x * burst : 0.3 * strings * burst;
      });
      expect(findProbe(other, SENT_AT, probe), `other ${seed}`).toBeNull();
    }
  });
  it('holds the ways before and after within its half-width where a block was lost between the two glides', () => {
    const found = findProbe(
      recorded(3, { tripSec: 0.09, gainDb: -20, noiseDb: -60, lost: 128 }),
      SENT_AT,
      probe,
    )!;
    for (const way of [0.09, 0.09 - 128 / RATE])
      expect(Math.abs(found.sec - way)).toBeLessThanOrEqual(found.halfWidthSec);
    expect(found.halfWidthSec).toBeLessThan(0.004);
  });
  it('says nothing where more was lost between them', () => {
    const glitch = recorded(3, { tripSec: 0.09, gainDb: -20, noiseDb: -60, lost: 384 });
    expect(findProbe(glitch, SENT_AT, probe)).toBeNull();
  });
  it('refuses a start outside the recording', () => {
    for (const at of [-1, NaN, 1e9])
      expect(() => findProbe(new Float32Array(100), at, probe)).toThrow(RangeError);
  });
});
