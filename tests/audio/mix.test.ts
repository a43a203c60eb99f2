import { describe, expect, it } from 'vitest';
import {
  CEILING_DBTP,
  TARGET_LUFS,
  gatingBlocks,
  integratedLoudness,
  truePeak,
} from '../../src/audio/render/index.ts';
import {
  STYLE_NAMES,
  backingSheet,
  hearingSheet,
  makeTest,
  performanceSheet,
  phraseSheet,
  standardTuning,
} from '../../src/tests-engine/index.ts';
import { sec } from '../../src/music/units.ts';
import { ebur128, hasFfmpeg } from '../support/ebur128.ts';
import { highPass, levelDb } from '../support/highpass.ts';
import { nodeRenderer } from '../support/node-renderer.ts';
import { backingBars, sheet } from '../support/sheets.ts';

const sampleRate = 44_100;
const renderer = nodeRenderer();
const joined = (parts: readonly { samples: Float32Array }[]): Float32Array => {
  const all = new Float32Array(parts.reduce((sum, { samples }) => sum + samples.length, 0));
  let at = 0;
  for (const { samples } of parts) {
    all.set(samples, at);
    at += samples.length;
  }
  return all;
};

/** Every style, kind and instrument; not every combination of them, which would take a minute. */
const cases = STYLE_NAMES.map((style, i) => ({
  style,
  kind: i % 2 === 0 ? 'rhythm' : 'melody',
  instrument: i % 3 === 0 ? 'bass' : 'guitar',
  seed: i + 1,
  level: 1 + (i % 3),
}));

describe('the mix', () => {
  it.each(cases)(
    'of a $kind test for $instrument over $style (seed $seed) has its loudness, its head-room, and a phrase that a small loudspeaker gives',
    async (options) => {
      const test = makeTest(options as Parameters<typeof makeTest>[0]);
      const parts = await renderer.render([hearingSheet(test), performanceSheet(test)], { sampleRate });
      const blocks = parts.flatMap(({ samples }) => gatingBlocks(samples, sampleRate));
      // Half of the 1 LU that tests may differ by.
      expect(Math.abs(integratedLoudness(blocks)! - TARGET_LUFS)).toBeLessThanOrEqual(0.5);
      for (const { samples } of parts)
        expect(20 * Math.log10(truePeak(samples))).toBeLessThanOrEqual(CEILING_DBTP + 1e-6);
      if (hasFfmpeg()) {
        const theirs = ebur128(joined(parts), sampleRate);
        expect(Math.abs(theirs.lufs - TARGET_LUFS)).toBeLessThanOrEqual(0.5);
        // ffmpeg prints one decimal; its interpolator and ours differ by up to 0.1 dB.
        expect(theirs.truePeakDb).toBeLessThanOrEqual(CEILING_DBTP + 0.15);
      }

      const { gainDb } = parts[0]!;
      const [phrase, backing] = await renderer.render([phraseSheet(test), backingSheet(test)], {
        sampleRate,
        gainDb,
      });
      const small = (samples: Float32Array): number => levelDb(highPass(samples, sampleRate));
      expect(small(phrase!.samples) - small(backing!.samples)).toBeGreaterThan(-6);
    },
  );

  it('gives the parts of one test one gain, so the backing is as loud in the performance as in the hearing', async () => {
    const loud = sheet(4, backingBars(0, 0.5));
    const short = sheet(2, backingBars(0, 0.5, 33, 1));
    const [a, b] = await renderer.render([loud, short], { sampleRate });
    expect(a!.gainDb).toBe(b!.gainDb);
    const oneBar = Math.round(1.9 * sampleRate);
    const difference = a!.samples
      .subarray(0, oneBar)
      .reduce((most, x, i) => Math.max(most, Math.abs(x - b!.samples[i]!)), 0);
    expect(difference).toBeLessThan(1e-6);
  });

  it('renders a later part with the gain it is given', async () => {
    const bars = sheet(4, backingBars(0, 0.5));
    const [whole] = await renderer.render([bars], { sampleRate });
    const [softer] = await renderer.render([bars], { sampleRate, gainDb: whole!.gainDb - 6 });
    expect(levelDb(softer!.samples) - levelDb(whole!.samples)).toBeCloseTo(-6, 3);
  });

  it('turns backing and melody up and down by what is asked, each alone, and keeps the head-room', async () => {
    const test = makeTest({
      kind: 'melody',
      level: 2,
      seed: 7,
      instrument: 'guitar',
      tuning: standardTuning('guitar').strings,
    });
    const sheets = [phraseSheet(test), backingSheet(test)];
    const [phrase, backing] = await renderer.render(sheets, { sampleRate });
    for (const [backingDb, melodyDb] of [
      [-12, 0],
      [0, -9],
      [-6, -6],
    ] as const) {
      const [p, b] = await renderer.render(sheets, { sampleRate, balance: { backingDb, melodyDb } });
      expect(levelDb(p!.samples) - levelDb(phrase!.samples)).toBeCloseTo(melodyDb, 1);
      expect(levelDb(b!.samples) - levelDb(backing!.samples)).toBeCloseTo(backingDb, 1);
    }
    const loud = await renderer.render(sheets, { sampleRate, balance: { backingDb: 6, melodyDb: 6 } });
    for (const { samples } of loud)
      expect(20 * Math.log10(truePeak(samples))).toBeLessThanOrEqual(CEILING_DBTP + 1e-6);
    await expect(
      renderer.render(sheets, { sampleRate, balance: { backingDb: 7, melodyDb: 0 } }),
    ).rejects.toThrow(/backingDb must lie between -18 and 6 dB, got 7/);
  });

  it('leaves the count as loud when the backing is turned down', async () => {
    const count = sheet(1.5, [{ type: 'speech', word: 'one', atSec: sec(0.5), velocity: 1 }]);
    const [plain] = await renderer.render([count], { sampleRate, gainDb: -6 });
    const [softer] = await renderer.render([count], {
      sampleRate,
      gainDb: -6,
      balance: { backingDb: -18, melodyDb: -18 },
    });
    expect(softer!.samples).toEqual(plain!.samples);
  });

  it('leaves silence silent', async () => {
    const [silence] = await renderer.render([sheet(2, [])], { sampleRate });
    expect(silence!.gainDb).toBe(0);
    expect(silence!.samples.every((x) => x === 0)).toBe(true);
  });
});
