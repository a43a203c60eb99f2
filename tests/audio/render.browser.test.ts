import { afterAll, beforeAll, expect, it } from 'vitest';
import { openSound } from '../../src/audio/index.ts';
import type { Sound } from '../../src/audio/index.ts';
import { attackSec } from '../../src/audio/render/attack.ts';
import { gatingBlocks, integratedLoudness } from '../../src/audio/render/index.ts';
import { backingBars, drum, note, sheet } from '../support/sheets.ts';

let sound: Sound;
let contexts = 0;
beforeAll(async () => {
  const Native = window.AudioContext;
  window.AudioContext = class extends Native {
    constructor(options?: AudioContextOptions) {
      super(options);
      contexts++;
    }
  };
  sound = await openSound();
});
afterAll(() => sound.close());

it.each([
  note(0.5, 40, 0.4),
  note(0.5, 41, 0.4, 'bassGuitar'),
  note(0.5, 53, 0.4, 'keys', 'backing'),
  drum(0.5, 'snare'),
])('a browser renders the attack of a cue within 1 ms (%#)', async (cue) => {
  const { samples, sampleRate } = await sound.render(sheet(1.2, [cue]));
  expect(sampleRate).toBe(sound.sampleRate);
  expect(Math.abs(attackSec(samples, sampleRate)! - cue.atSec)).toBeLessThan(0.001);
});

it('gives the sheets of one test one gain and −23 LUFS together, measured in the worker', async () => {
  const parts = await sound.renderTogether([sheet(5, backingBars(0.2, 0.5)), sheet(3, [note(0.2, 52, 2)])]);
  const blocks = parts.flatMap(({ samples, sampleRate }) => gatingBlocks(samples, sampleRate));
  expect(integratedLoudness(blocks)).toBeCloseTo(-23, 1);
  expect(parts[0]!.gainDb).toBe(parts[1]!.gainDb);
});

it('makes one AudioContext in all, rendering included', () => {
  expect(contexts).toBe(1);
});

it('a refused sheet leaves the renderer as good as before', async () => {
  const good = sheet(1, [note(0.1, 52, 0.5)]);
  const before = await sound.render(good);
  await expect(sound.render(sheet(1, [note(0.1, 127, 0.5)]))).rejects.toThrow(RangeError);
  const after = await sound.render(good);
  expect(after.samples.every((x, i) => x === before.samples[i])).toBe(true);
});
