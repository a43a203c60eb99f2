import { describe, expect, it } from 'vitest';
import { hearOverBacking, hearTake } from '../../../src/dsp/index.ts';
import { noiseSource, simpleBacking } from './scene.ts';

const RATE = 24_000;
const FROM = 6;
const reference = simpleBacking(5, RATE, 10);

/** Three harmonic plucks and a whisper of noise: a player with headphones. */
function headphones(): Float32Array {
  const noise = noiseSource(3);
  const out = Float32Array.from(reference, () => 0.0005 * noise());
  [6.513, 7.021, 7.498].forEach((at, i) => {
    const f = 110 * 2 ** ([0, 3, 5][i] / 12);
    for (let n = 0; n < 0.45 * RATE; n++)
      for (let h = 1; h < 12; h++)
        out[Math.round(at * RATE) + n] +=
          (0.1 / h) * Math.sin((2 * Math.PI * f * h * n) / RATE) * Math.exp((-4 * h ** 0.5 * n) / RATE);
  });
  return out;
}

describe('hearing over a backing', () => {
  it('changes nothing with headphones: the same notes at the same times', () => {
    const recording = headphones();
    const over = hearOverBacking(recording, RATE, { instrument: 'guitar', reference, fromSec: FROM });
    const start = Math.round((FROM - 0.15) * RATE);
    const alone = hearTake(recording.subarray(start), RATE, { instrument: 'guitar' });
    expect(over.heard.delayMs).toBe(null);
    expect(over.notes.map((n) => n.midi)).toEqual([45, 48, 50]);
    expect(over.notes.map((n) => n.midi)).toEqual(alone.notes.map((n) => n.midi));
    over.notes.forEach((n, i) => expect(n.onsetSec - start / RATE).toBeCloseTo(alone.notes[i].onsetSec, 9));
  });
});
