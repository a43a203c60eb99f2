import { describe, expect, it } from 'vitest';
import { PLACEMENT_FEATURES, placementFeatures, placeOnset } from '../../../src/dsp/bleed/placement.ts';
import { ms, prepare, WORK_RATE } from '../../../src/dsp/signal/prepared.ts';
import { noiseSource } from './scene.ts';

const ONSET = Math.round(0.5 * WORK_RATE);
const A2 = 45;

/** A low string that rises in 3 ms over a little noise. */
function lowString(): Float32Array {
  const noise = noiseSource(4);
  const f = 440 * 2 ** ((A2 - 69) / 12);
  return Float32Array.from({ length: WORK_RATE }, (_, i) => {
    const t = (i - ONSET) / WORK_RATE;
    let x = 0.003 * noise();
    if (t < 0) return x;
    const rise = Math.min(1, t / 0.003) * Math.exp(-3 * t);
    for (let h = 1; h < 14; h++) x += (0.2 / h) * rise * Math.sin(2 * Math.PI * f * h * t);
    return x;
  });
}

describe('placing a note over a backing', () => {
  const take = prepare(lowString());
  it('brings a low string that was found late or early nearer to where it begins', () => {
    for (const offMs of [-9, 9, 12, 16]) {
      const placed = placeOnset(take, ONSET + ms(offMs), A2);
      expect(Math.abs(placed - ONSET) / ms(1)).toBeLessThan(0.7 * Math.abs(offMs));
    }
  });
  it('leaves one that was found where it begins about there', () => {
    expect(Math.abs(placeOnset(take, ONSET, A2) - ONSET)).toBeLessThan(ms(4));
  });
  it('moves nothing by more than 25 ms, nor before the take, also in silence', () => {
    const silence = prepare(new Float32Array(WORK_RATE));
    for (const at of [0, 100, ONSET, WORK_RATE - 1]) {
      const placed = placeOnset(silence, at, A2);
      expect(Math.abs(placed - at)).toBeLessThanOrEqual(ms(25));
      expect(placed).toBeGreaterThanOrEqual(0);
    }
  });
  it('reads levels under the attack’s peak: a louder take has the same features', () => {
    const louder = prepare(lowString().map((x) => 3 * x));
    const [soft, loud] = [take, louder].map((of) => placementFeatures(of, ONSET, A2));
    expect(soft).toHaveLength(PLACEMENT_FEATURES.length);
    soft!.forEach((v, i) => expect(loud![i]).toBeCloseTo(v, 3));
  });
});
