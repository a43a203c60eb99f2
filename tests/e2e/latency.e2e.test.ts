import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { perform } from '../../audio-fixtures/player.ts';
import { loadNpmBank } from '../../audio-fixtures/banks/npm.ts';
import { makeRandom } from '../../audio-fixtures/random.ts';
import { clickSheet, METRES } from '../../src/tests-engine/index.ts';
import { arm, PATH_SEC } from '../support/simulated-player.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { violationsIn } from './axe.ts';
import { PATIENCE } from './patience.ts';

const RATE = 48_000;
/** What the simulated way adds to the shortest there is. */
const LATER_SEC = 0.073;
/** The measurement's own, and half of the last digit shown. */
const WITHIN_MS = 2;

const heading = (page: Page, text: string) => page.locator('h1', { hasText: text }).waitFor(PATIENCE);
const onward = (page: Page) => page.keyboard.press('PageDown');
const back = (page: Page) => page.keyboard.press('PageUp');
/** The measured value as the page shows it: [ms, ±]. */
async function measured(page: Page, how: string): Promise<[number, number]> {
  const text = await page.getByText(`Delay measured ${how}`).textContent(PATIENCE);
  const [, ms, half] = /: ([\d.]+)\sms, give or take ([\d.]+)/.exec(text ?? '')!;
  return [Number(ms), Number(half)];
}
const openAt = async (page: Page, app: ServedApp, output: 'speakers' | 'headphones') => {
  const kept = { 'twobar.settings': JSON.stringify({ checked: true, output, manner: 'relaxed' }) };
  await page.addInitScript((all) => Object.assign(localStorage, all), kept);
  await page.goto(`${app.url}#/start/melody/1/1`);
  await heading(page, 'What would you like');
};
const started = (page: Page) => page.evaluate(() => window.__twobarPlayer!.started.length);
const bleed = (page: Page, gainDb: number, laterSec = LATER_SEC) =>
  page.evaluate(([gain, later]) => window.__twobarPlayer!.bleed(gain, later), [gainDb, laterSec] as const);

/** The way from the app to its microphone just now, ms, beside what is added to it: a loaded machine's is no constant. */
const way = async (page: Page): Promise<number> =>
  1000 * (await page.evaluate(() => window.__twobarPlayer!.way()));
/**
 * What is measured while `measure` runs, ms, against the way before it (where the microphone is open already) and after.
 * @returns how far the measured value lies outside of both, and how far these lie apart
 */
async function against(
  page: Page,
  laterSec: number,
  measure: () => Promise<[number, number]>,
  { opened = true } = {},
): Promise<{ ms: number; half: number; outMs: number; changedMs: number }> {
  const before = opened ? await way(page) : null;
  const [ms, half] = await measure();
  const after = await way(page);
  const ways = [before ?? after, after].map((v) => v + 1000 * laterSec);
  const [least, most] = [Math.min(...ways), Math.max(...ways)];
  return { ms, half, outMs: Math.max(0, least - ms, ms - most), changedMs: most - least };
}

/** Recorded notes, one at each of these times, a little apart as a player's are. */
async function notesAt(times: readonly number[], durationSec: number): Promise<Float32Array<ArrayBuffer>> {
  const plan = times.map((at, i) => ({ onsetSec: at, durationSec: 0.4, midi: 45 + 2 * i, levelDb: 0 }));
  const { signal } = perform(plan, await loadNpmBank('electric'), {
    sampleRate: RATE,
    durationSec,
    random: makeRandom(7),
  });
  return Float32Array.from(signal);
}

describe('the latency in the built app, with a simulated player and a way of known length', () => {
  let app: ServedApp;
  const barriers: string[] = [];
  beforeAll(async () => {
    app = await serveBuiltApp({ pace: 1 });
  }, 180_000);
  afterAll(() => app.close());

  it('is asked with headphones before a test; nothing sounds before "off my head"; an earcup measures it', async () => {
    const { page, context, problems } = await app.page();
    await openAt(page, app, 'headphones');
    await onward(page);
    await heading(page, 'How late does the sound come back?');
    barriers.push(...(await violationsIn(page, 'earcup')));
    await onward(page);
    await heading(page, 'Are the headphones off your head?');
    // A bouncing pedal is no confirmation.
    await onward(page);
    expect(await started(page)).toBe(0);
    barriers.push(...(await violationsIn(page, 'confirm')));
    await bleed(page, -20);
    await page.waitForTimeout(800);
    expect(await started(page)).toBe(0);
    const first = await against(page, LATER_SEC, async () => {
      await onward(page);
      return measured(page, 'with an earcup');
    });
    expect(first.outMs).toBeLessThanOrEqual(WITHIN_MS);
    expect(first.half).toBeLessThanOrEqual(2 + first.changedMs);
    expect(await started(page)).toBe(1);
    barriers.push(...(await violationsIn(page, 'measured')));
    // A way that is longer by 60 ms in the same opening is measured as longer by that.
    await bleed(page, -20, LATER_SEC + 0.06);
    await page.getByRole('button', { name: 'Measure again' }).click();
    await page.getByRole('button', { name: 'I am holding it there' }).click();
    await heading(page, 'Are the headphones off your head?');
    await page.waitForTimeout(800);
    const longer = await against(page, LATER_SEC + 0.06, async () => {
      await onward(page);
      return measured(page, 'with an earcup');
    });
    expect(longer.outMs).toBeLessThanOrEqual(WITHIN_MS);
    expect(Math.abs(longer.ms - first.ms - 60)).toBeLessThanOrEqual(2 + first.changedMs + longer.changedMs);
    // Known now: the test begins and nothing more is asked.
    await onward(page);
    await page.locator('li[aria-current="step"]').waitFor(PATIENCE);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('says so when the earcup is not heard, and takes four notes with the click instead; the truth is within its ±', async () => {
    const { page, context } = await app.page();
    await openAt(page, app, 'headphones');
    await onward(page);
    await heading(page, 'How late does the sound come back?');
    await onward(page);
    await heading(page, 'Are the headphones off your head?');
    await page.waitForTimeout(800);
    await onward(page);
    await page.getByRole('alert').getByText('I did not hear it clearly enough').waitFor(PATIENCE);
    await back(page);
    await heading(page, 'Play four notes with the click');
    const sheet = clickSheet(METRES['4/4'], 1, 90);
    const beats = sheet.marks.filter(({ label }) => label === 'beat').map(({ atSec }) => atSec);
    await arm(page, {
      pcm: await notesAt(
        beats.map((at, i) => at + [0.004, -0.006, 0.008, -0.003][i]!),
        sheet.durationSec,
      ),
      sampleRate: RATE,
      lengthSec: sheet.durationSec,
      atSec: 0,
      roundTripSec: PATH_SEC + LATER_SEC,
    });
    const notes = await against(page, LATER_SEC, async () => {
      await onward(page);
      return measured(page, 'from four notes');
    });
    expect(notes.outMs).toBeLessThanOrEqual(notes.half);
    expect(notes.half).toBeGreaterThan(10);
    await page.getByText('you are told, but it costs you nothing').waitFor(PATIENCE);
    barriers.push(...(await violationsIn(page, 'four notes')));
    await context.close();
  });

  it('can be skipped by the two keys, which is then not asked again', async () => {
    const { page, context } = await app.page();
    await openAt(page, app, 'headphones');
    await onward(page);
    await heading(page, 'How late does the sound come back?');
    await onward(page);
    await heading(page, 'Are the headphones off your head?');
    await back(page);
    await heading(page, 'Play four notes with the click');
    await back(page);
    await page.locator('li[aria-current="step"]').waitFor(PATIENCE);
    await context.close();
  });

  it('comes from the backing over loudspeakers, and how well the player is heard with it', async () => {
    const { page, context } = await app.page();
    await openAt(page, app, 'speakers');
    await page.goto(`${app.url}#/check/latency`);
    await heading(page, 'How well can I hear you');
    barriers.push(...(await violationsIn(page, 'over the backing')));
    await bleed(page, -4);
    const pcm = await notesAt(
      Array.from({ length: 14 }, (_, i) => 0.6 + 0.8 * i),
      12,
    );
    await arm(page, { pcm, sampleRate: RATE, atSec: 0 });
    const over = await against(
      page,
      LATER_SEC,
      async () => {
        await onward(page);
        return measured(page, 'over the loudspeaker');
      },
      { opened: false },
    );
    expect(over.outMs).toBeLessThanOrEqual(WITHIN_MS);
    await page
      .locator('#page p')
      .getByText(/^I hear you/)
      .first()
      .waitFor(PATIENCE);
    barriers.push(...(await violationsIn(page, 'heard over the backing')));
    await context.close();
  });

  it('gives axe nothing to find on these screens', () => {
    expect(barriers).toEqual([]);
  });
});
