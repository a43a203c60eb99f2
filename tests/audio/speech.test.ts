import { describe, expect, it } from 'vitest';
import { MANIFEST } from '../../src/audio/render/index.ts';
import type { SpokenWord } from '../../src/music/score.ts';
import { nodeRenderer } from '../support/node-renderer.ts';
import { sheet, word } from '../support/sheets.ts';

const RATE = 48_000;
const SOUNDED_AT = 0.5;

/** A glide (w, r) is voiced and as loud as its vowel: the voice begins before the vowel does, by the glide's length. */
const GLIDES = new Set(['one', 'three', 'ready']);

describe('a spoken count', () => {
  const renderer = nodeRenderer();
  const words = MANIFEST.samples.filter(({ file }) => file === 'speech');

  it.each(words.map(({ id, attackSec, lengthSec }) => [id, lengthSec, attackSec] as const))(
    '"%s" (%f s) fits a beat at 140 bpm and puts its vowel (%f s in) on the beat',
    async (id, lengthSec, attackSec) => {
      expect(lengthSec).toBeLessThan(60 / 140);
      expect(attackSec).toBeGreaterThan(0);
      const [rendered] = await renderer.render([sheet(1.2, [word(SOUNDED_AT, id as SpokenWord)])], {
        sampleRate: RATE,
      });
      const voiced = voiceOnsetSec(rendered!.samples) - SOUNDED_AT;
      if (GLIDES.has(id)) {
        expect(voiced).toBeLessThan(0);
        expect(voiced).toBeGreaterThan(-0.13);
      } // Twice the frame: a word that begins with its vowel ("and") swells over two or three periods.
      else expect(Math.abs(voiced)).toBeLessThan(0.04);
    },
  );
});

/**
 * Where a word's voice begins, by sound alone: consonants are noise (thousands of zero crossings a second),
 * silence or weak; the voice is the first 20 ms within 8 dB of the loudest with fewer than 900 crossings a second.
 */
function voiceOnsetSec(samples: Float32Array): number {
  const hop = RATE / 400;
  const width = RATE / 50;
  const frames: { level: number; crossings: number }[] = [];
  for (let start = 0; start + width <= samples.length; start += hop) {
    const frame = samples.subarray(start, start + width);
    let crossings = 0;
    for (let i = 1; i < width; i++) if (frame[i - 1]! < 0 !== frame[i]! < 0) crossings++;
    frames.push({ level: frame.reduce((sum, x) => sum + x * x, 0), crossings: (crossings * RATE) / width });
  }
  const top = Math.max(...frames.map(({ level }) => level));
  const first = frames.findIndex(({ level, crossings }) => level > top / 6.3 && crossings < 900);
  return (first * hop + width / 2) / RATE;
}
