import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { t } from '../../src/ui/messages.ts';
import { serveCompressed, type Host } from '../support/compressed-host.ts';
import { onlyNamedByIndex } from '../support/firstVisit.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { OUT } from './build.ts';
import { heading, onward, PATIENCE, remember, sounding } from './pages.ts';

/** What a visitor of a slow network must wait for: a third of a second at 4 Mbit/s. */
const MOST_BYTES = 150_000;
const CORE = /assets\/core-[^/]*\.js/;

describe('a first visit', () => {
  let app: ServedApp;
  let host: Host;
  beforeAll(async () => {
    app = await serveBuiltApp();
    host = await serveCompressed(OUT);
  }, 180_000);
  afterAll(async () => {
    await app.close();
    await host.close();
  });
  const first = (page: Page) => heading(page, 'What would you like');

  it('fetches less than 150 kB, fonts among them, until the first page can be used', async () => {
    const { page } = await app.page();
    await onlyNamedByIndex(page, OUT);
    const before = host.sentBytes();
    await page.goto(host.url);
    await first(page);
    await page.waitForLoadState('networkidle');
    await page.evaluate(() => document.fonts.ready);
    const sent = host.sentBytes() - before;
    expect(sent).toBeLessThan(MOST_BYTES);
    // It can be used: what is chosen is kept, and what a level has is offered.
    await page.getByText(t('start.kind.rhythm'), { exact: true }).first().click();
    await page.locator('label', { hasText: /^\s*7/ }).first().click();
    expect(await page.evaluate(() => localStorage.getItem('twobar.settings'))).toMatch(
      /"kind":"rhythm","level":7/,
    );
  });

  it('begins the test that was asked for before all of it had come, as soon as it has', async () => {
    const { page, problems } = await app.page();
    let letCome = (): void => {};
    const held = new Promise<void>((resolve) => (letCome = resolve));
    await page.route(CORE, async (route) => {
      await held;
      await route.continue();
    });
    await remember(page, {});
    await page.goto(`${app.url}#/start/melody/1/3`);
    await first(page);
    await onward(page);
    await page.waitForTimeout(300);
    expect(await page.evaluate(() => location.hash)).toBe('#/start/melody/1/3');
    letCome();
    await sounding(page);
    expect(problems).toEqual([]);
  });

  it('says what to do where the rest cannot be fetched, and begins when it is asked again online', async () => {
    const { page } = await app.page();
    await page.route(CORE, (route) => route.abort('internetdisconnected'));
    await remember(page, {});
    await page.goto(`${app.url}#/start/melody/1/3`);
    await first(page);
    await page.getByRole('alert').getByText(t('error.remedy')).waitFor(PATIENCE);
    await page.unroute(CORE);
    await onward(page);
    await sounding(page);
    expect(await page.getByRole('alert').count()).toBe(0);
  });
});
