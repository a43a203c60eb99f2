import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadNpmBank } from '../../audio-fixtures/banks/npm.ts';
import { perform } from '../../audio-fixtures/player.ts';
import { makeRandom } from '../../audio-fixtures/random.ts';
import { arm } from '../support/simulated-player.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { PATIENCE } from './patience.ts';

const RATE = 48_000;
/** A question is read before it is answered, ms. */
const READING_MS = 2500;

const heading = (page: Page, text: string) => page.locator('h1', { hasText: text }).waitFor(PATIENCE);
const onward = async (page: Page) => {
  await page.waitForTimeout(READING_MS);
  await page.keyboard.press('PageDown');
};
const bleed = (page: Page, gainDb: number, laterSec: number) =>
  page.evaluate(([gain, later]) => window.__twobarPlayer!.bleed(gain, later), [gainDb, laterSec] as const);

describe('the sound check in the built app, at the pace of someone who reads it', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(() => app.close());

  /** From the first question to the one before the latency; the time at which it began. */
  async function untilLatency(page: Page, output: 'Loudspeakers' | 'Headphones'): Promise<number> {
    await page.goto(`${app.url}#/check`);
    await heading(page, 'Before you play');
    const began = Date.now();
    await onward(page);
    await heading(page, 'What do you play?');
    await onward(page);
    await heading(page, 'Which microphone');
    await onward(page);
    await page.getByText('Microphone on').waitFor(PATIENCE);
    await onward(page);
    for (const title of ['lowest string', 'in tune']) {
      await heading(page, title);
      await onward(page);
    }
    await heading(page, 'sound come out');
    await page.getByRole('radio', { name: new RegExp(`^${output}`) }).check();
    await onward(page);
    return began;
  }
  /** Says how long it took, and that a test now begins without another question. */
  async function done(page: Page, output: string, began: number): Promise<void> {
    await onward(page);
    process.stdout.write(`sound check, ${output}: ${((Date.now() - began) / 1000).toFixed(0)} s\n`);
    await heading(page, 'What would you like');
    await page.goto(`${app.url}#/start/melody/1/1`);
    await heading(page, 'What would you like');
    await page.keyboard.press('PageDown');
    await page.locator('li[aria-current="step"]').waitFor(PATIENCE);
    expect(page.url()).not.toContain('check');
  }

  it('ends with how well the player is heard over loudspeakers, and is not asked again', async () => {
    const { page, context, problems } = await app.page();
    const began = await untilLatency(page, 'Loudspeakers');
    await heading(page, 'How well can I hear you');
    await bleed(page, -4, 0.07);
    const plan = Array.from({ length: 14 }, (_, i) => ({
      onsetSec: 0.6 + 0.8 * i,
      durationSec: 0.4,
      midi: 45 + 2 * i,
      levelDb: 0,
    }));
    const { signal } = perform(plan, await loadNpmBank('electric'), {
      sampleRate: RATE,
      durationSec: 12,
      random: makeRandom(7),
    });
    await arm(page, { pcm: Float32Array.from(signal), sampleRate: RATE, atSec: 0 });
    await onward(page);
    await page.getByText('Delay measured over the loudspeaker').waitFor(PATIENCE);
    await done(page, 'loudspeaker', began);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('ends with the earcup’s latency with headphones, which alone is asked again once the sound is opened anew', async () => {
    const { page, context, problems } = await app.page();
    const began = await untilLatency(page, 'Headphones');
    await heading(page, 'How late does the sound come back?');
    await bleed(page, -20, 0.07);
    await onward(page);
    await heading(page, 'Are the headphones off your head?');
    await onward(page);
    await page.getByText('Delay measured with an earcup').waitFor(PATIENCE);
    await done(page, 'headphones', began);
    await page.goto(`${app.url}#/start/melody/1/1`);
    await page.reload();
    await heading(page, 'What would you like');
    await page.keyboard.press('PageDown');
    await heading(page, 'How late does the sound come back?');
    expect(problems).toEqual([]);
    await context.close();
  });
});
