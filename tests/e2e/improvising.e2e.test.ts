import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { chartOf, makeImprovising } from '../../src/tests-engine/index.ts';
import { arm } from '../support/simulated-player.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { violationsIn } from './axe.ts';
import { improvisedLine } from './improvised.ts';
import { heading, onward, PATIENCE, remember } from './pages.ts';

const SEED = 20261128;
const LEVEL = 1;

const step = (page: Page, word: string) =>
  page.locator('li[aria-current="step"]', { hasText: new RegExp(`^\\s*${word}\\s*$`) }).waitFor(PATIENCE);

const task = makeImprovising({ level: LEVEL, seed: SEED, instrument: 'guitar', prepareClick: false });

describe('improvising in the built app, with recorded notes at the microphone', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(() => app.close());

  async function ready(): Promise<{ page: Page; problems: string[]; close(): Promise<void> }> {
    const { page, context, problems } = await app.page();
    // Each chart is drawn from a fresh seed: here always the same one.
    await page.addInitScript((seed) => {
      const random = crypto.getRandomValues.bind(crypto);
      crypto.getRandomValues = ((array: ArrayBufferView) =>
        array instanceof Uint32Array && array.length === 1
          ? (array.fill(seed), array)
          : random(array as Uint8Array<ArrayBuffer>)) as typeof crypto.getRandomValues;
    }, SEED);
    await remember(page, {
      checked: true,
      output: 'speakers',
      manner: 'relaxed',
      improvising: { level: LEVEL, plays: 'line', prepareClick: false },
    });
    await page.goto(`${app.url}#/improvise`);
    await heading(page, 'Improvising');
    return { page, problems, close: () => context.close() };
  }

  async function take(page: Page, passes: readonly { readonly silent: readonly number[] }[]): Promise<void> {
    await arm(page, await improvisedLine(task, passes));
    await onward(page);
    await step(page, 'Prepare');
    await page.locator('li', { hasText: 'Bar 1:' }).waitFor(PATIENCE);
  }

  it('shows the chart for the preparation, runs twice without a break and tells what was played', async () => {
    const { page, problems, close } = await ready();
    expect(await violationsIn(page, 'choice')).toEqual([]);
    await take(page, [{ silent: [2, 3, 4] }, { silent: [] }]);
    await page.getByRole('button', { name: 'Show chord notes' }).click();
    await page
      .getByText(/^Chord: /)
      .first()
      .waitFor(PATIENCE);
    expect(await violationsIn(page, 'chart')).toEqual([]);
    await onward(page);
    await step(page, 'Play');
    await page.getByText('Second time: this one counts').waitFor({ timeout: 60_000 });
    await page.locator('p.said', { hasText: 'on the third or the seventh' }).waitFor({ timeout: 60_000 });
    // What the practice pass left out is not told of the one that counts.
    const of = chartOf(task).bars;
    await page.getByText('All that was counted').click();
    await page.getByText(`Played in ${of} of ${of} bars`).waitFor(PATIENCE);
    const onStrong = page.getByText(/of \d+ on strong beats in the chord/);
    const [count, all] = (await onStrong.textContent())!.match(/\d+/g)!.map(Number);
    expect(count).toBe(all);
    expect(await page.locator('p.number').count()).toBe(0);
    expect(await violationsIn(page, 'told')).toEqual([]);
    await page
      .getByRole('img', { name: /Your notes over the chart: \d+ chord notes, 0 of the scale/ })
      .waitFor(PATIENCE);
    await page.getByText('For practice').click();
    await page.getByRole('button', { name: 'Your playing' }).click();
    await page
      .locator('line.now')
      .first()
      .waitFor({ ...PATIENCE, state: 'attached' });
    expect(problems).toEqual([]);
    await close();
  });

  it('names the bar of a stop, and keeps what was told', async () => {
    const { page, close } = await ready();
    await take(page, [{ silent: [] }, { silent: [3] }]);
    await onward(page);
    await page.locator('p.said', { hasText: 'In bar 3 you stopped' }).waitFor({ timeout: 90_000 });
    await page.locator('p.said', { hasText: 'Next time: keep going.' }).waitFor(PATIENCE);
    await page.goto(`${app.url}#/teacher`);
    await page.reload();
    await page.getByRole('link', { name: 'Me' }).first().click();
    await page
      .getByRole('link', { name: /Improvising/ })
      .first()
      .click();
    await page.locator('p.said', { hasText: 'In bar 3 you stopped' }).waitFor(PATIENCE);
    await close();
  });
});
