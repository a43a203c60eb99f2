import { spawnSync } from 'node:child_process';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeTest } from '../../../src/tests-engine/index.ts';
import {
  beginLinked,
  heading,
  onward,
  PATIENCE,
  remember,
  sounding,
  step,
  straightToTheTake,
} from '../../e2e/pages.ts';
import { playedTake } from '../../e2e/takes.ts';
import { arm } from '../../support/simulated-player.ts';
import { addLoopPlayer, type LoopPlayer } from '../loop-player.ts';
import { hasFirefox, serveInFirefox, type FirefoxApp } from './firefox.ts';

const MELODY = makeTest({ kind: 'melody', level: 2, seed: 20261124, instrument: 'guitar' });
const RHYTHM = makeTest({ kind: 'rhythm', level: 2, seed: 4711, instrument: 'guitar' });
/** The backing as it comes from loudspeakers beside a guitar. */
const IN_THE_ROOM_DB = -12;
/** An earcup held to the microphone. */
const EARCUP_DB = -20;
/** The measurement's own, and half of the last digit shown. */
const WITHIN_MS = 2;

const result = (page: Page) => page.getByRole('button', { name: 'Next test' }).waitFor(PATIENCE);
const mark = async (page: Page) => Number(await page.locator('p.number').textContent(PATIENCE));
const verdicts = (page: Page) => page.locator('details tbody tr td:nth-child(2)').allTextContents();
/** The way from the loudspeaker to the microphone just now, ms. */
const way = async (page: Page): Promise<number> =>
  1000 *
  (await page.evaluate(() => (window as unknown as { __twobarPlayer: LoopPlayer }).__twobarPlayer.way()));
const loudspeaker = (page: Page, gainDb: number) =>
  page.evaluate(
    (db) => (window as unknown as { __twobarPlayer: LoopPlayer }).__twobarPlayer.loudspeaker(db),
    gainDb,
  );

describe.skipIf(!hasFirefox)('whole tests in Firefox through its own microphone and a sound server', () => {
  let app: FirefoxApp;
  beforeAll(async () => {
    app = await serveInFirefox({ pace: 1, player: (page) => addLoopPlayer(page, IN_THE_ROOM_DB) });
  });
  afterAll(() => app?.close());

  it('marks a melody played over loudspeakers, heard from the key to the mark as in an exam', async () => {
    const { page, context, problems } = await app.page();
    await remember(page, { manner: 'strict', output: 'speakers' });
    await beginLinked(page, app, 'melody/2/20261124');
    app.server.hurry();
    await arm(page, await playedTake(MELODY));
    for (const word of ['Listen', 'Again', 'Find it']) await step(page, word);
    await onward(page);
    await step(page, 'Play');
    await result(page);
    expect(new Set(await verdicts(page))).toEqual(new Set(['right']));
    expect(await mark(page)).toBeGreaterThanOrEqual(95);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('marks a rhythm played over loudspeakers, asks which it was and says whether that is so', async () => {
    const { page, context, problems } = await app.page();
    await remember(page, { manner: 'relaxed', output: 'speakers' });
    await beginLinked(page, app, 'rhythm/2/4711');
    app.server.hurry();
    await arm(page, await playedTake(RHYTHM));
    await straightToTheTake(page);
    await heading(page, 'Which rhythm was it?');
    await page.locator('.question .engraved svg').nth(1).waitFor(PATIENCE);
    const key = RHYTHM.question!.answer === 'A' ? 'PageUp' : 'PageDown';
    await page.keyboard.press(key);
    await page.keyboard.press(key);
    await result(page);
    expect(new Set(await verdicts(page))).toEqual(new Set(['right']));
    expect(await mark(page)).toBeGreaterThanOrEqual(95);
    await page.getByText(`You chose ${RHYTHM.question!.answer}. That is the rhythm.`).waitFor(PATIENCE);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('measures how late the sound comes back with an earcup, as long as it is', async () => {
    const { page, context, problems } = await app.page();
    await remember(page, { manner: 'relaxed', output: 'headphones' });
    await page.goto(`${app.url}#/start/rhythm/2/4711`);
    await heading(page, 'What would you like');
    await onward(page);
    await heading(page, 'How late does the sound come back?');
    app.server.hurry();
    await onward(page);
    await heading(page, 'Are the headphones off your head?');
    await loudspeaker(page, EARCUP_DB);
    await page.waitForTimeout(800);
    const before = await way(page);
    await onward(page);
    const text = await page.getByText('Delay measured with an earcup').textContent(PATIENCE);
    const [, ms, half] = /: ([\d.]+)\sms, give or take ([\d.]+)/.exec(text ?? '')!.map(Number);
    // On a busy machine the way grows by a buffer now and then, and it is measured somewhere between the two.
    const ways = [before, await way(page)];
    expect(ms).toBeGreaterThanOrEqual(Math.min(...ways) - WITHIN_MS);
    expect(ms).toBeLessThanOrEqual(Math.max(...ways) + WITHIN_MS);
    expect(half).toBeGreaterThan(0);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('does not mark silence, and stops without cost where the page is hidden', async () => {
    const { page, context, problems } = await app.page();
    await remember(page, { manner: 'relaxed', output: 'headphones', checked: true });
    await page.goto(`${app.url}#/start/melody/1/3`);
    await heading(page, 'What would you like');
    await onward(page);
    await heading(page, 'How late does the sound come back?');
    await loudspeaker(page, -Infinity);
    // Neither the earcup nor the four notes: by the other key.
    await onward(page);
    await heading(page, 'Are the headphones off your head?');
    await page.keyboard.press('PageUp');
    await heading(page, 'Play four notes with the click');
    await page.keyboard.press('PageUp');
    await page.locator('li[aria-current="step"]').waitFor(PATIENCE);
    await sounding(page);
    await straightToTheTake(page);
    await result(page);
    await page.getByText('Not marked').first().waitFor(PATIENCE);
    expect(await page.locator('p.number').count()).toBe(0);
    await page.keyboard.press('PageUp');
    await step(page, 'Listen');
    // Another tab in front of it.
    await page.evaluate(() => void window.open('about:blank'));
    await page.waitForFunction(() => document.visibilityState === 'hidden', null, PATIENCE);
    await page.bringToFront();
    await page.waitForFunction(() => document.visibilityState === 'visible', null, PATIENCE);
    await page.getByRole('alert').getByText('It cost you nothing').waitFor(PATIENCE);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('voids a take in which the sound server’s microphone is gone, and says that nothing is marked', async () => {
    const { page, context } = await app.page();
    await remember(page, { manner: 'relaxed', output: 'speakers' });
    await beginLinked(page, app, 'melody/1/1');
    await straightToTheTake(page);
    expect(spawnSync('pactl', ['unload-module', 'module-remap-source'], { env: app.server.env }).status).toBe(
      0,
    );
    await page.getByText('That take does not count').waitFor(PATIENCE);
    await page.getByRole('alert').getByText('Nothing is marked.').waitFor(PATIENCE);
    await context.close();
  });
});
