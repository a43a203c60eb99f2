import { describe, expect, it } from 'vitest';
import { hearLeft } from '../../../src/dsp/bleed/hearLeft.ts';
import { playable } from '../../../src/dsp/note/range.ts';
import { noiseSource } from './scene.ts';

const RATE = 24_000;
/** Long enough for two parts and for three: they are 50 s long. */
const TWO_SEC = 54;
const THREE_SEC = 104;
/** Seconds between plucks: one falls on each border of the parts (50 and 100 s), to within some milliseconds of it. */
const EVERY = 1;

/** A guitar left alone by a backing of which next to nothing is left: plucked each second, by turns at four pitches. */
function pluckedBy(offSec: number, seconds: number) {
  const left = new Float64Array(seconds * RATE);
  const bleed = new Float64Array(seconds * RATE);
  const noise = noiseSource(4);
  for (let n = 0; n < left.length; n++) {
    bleed[n] = 0.02 * noise();
    left[n] = 0.0002 * noise();
  }
  const midis: number[] = [];
  for (let k = 1; k * EVERY < seconds - 1; k++) {
    const midi = [52, 55, 59, 64][k % 4]!;
    midis.push(midi);
    const hertz = 440 * 2 ** ((midi - 69) / 12);
    const at = Math.round((k * EVERY + offSec) * RATE);
    for (let n = 0; n < 0.9 * EVERY * RATE; n++)
      for (let h = 1; h < 12; h++)
        left[at + n]! +=
          (0.1 / h) * Math.sin((2 * Math.PI * hertz * h * n) / RATE) * Math.exp((-2.5 * h ** 0.5 * n) / RATE);
  }
  const rest = { delayMs: 50, driftPpm: 0, cancellationDb: 20, bleedDb: -10, heard: left };
  return { cancelled: { rate: RATE, left, bleed, ...rest }, midis };
}

describe('a piece heard in parts', () => {
  it('has each note once, also where two parts meet, in its place', () => {
    for (const [offSec, seconds] of [
      [-0.012, TWO_SEC],
      [0, THREE_SEC],
      [0.012, TWO_SEC],
    ] as const) {
      const { cancelled, midis } = pluckedBy(offSec, seconds);
      const { notes, heard } = hearLeft(cancelled, playable({ instrument: 'guitar' }));
      expect(heard.verdict).toBe('ok');
      expect(
        notes.map(({ midi }) => midi),
        `${offSec}`,
      ).toEqual(midis);
      notes.forEach(({ onsetSec }, k) =>
        expect(Math.abs(onsetSec - (k + 1) * EVERY - offSec), `${offSec}: ${k}`).toBeLessThan(0.03),
      );
    }
  });
});
