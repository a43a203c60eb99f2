import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Page } from 'playwright-core';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { violationsIn } from './axe.ts';
import { PATIENCE, heading, remember, sounding, step } from './pages.ts';

let app: ServedApp;
beforeAll(async () => (app = await serveBuiltApp()));
afterAll(() => app.close());

const PHONE = { viewport: { width: 390, height: 844 } };
const PAGES = [
  '/',
  '/practice',
  '/read',
  '/progress',
  '/teacher',
  '/phrases',
  '/data',
  '/settings',
  '/check',
  '/about',
];

/** What does not fit: a page wider than its window, text cut off in its box, lines of text that lie on each other. */
const misfits = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const found: string[] = [];
    const wide = document.documentElement.scrollWidth - window.innerWidth;
    if (wide > 1) found.push(`the page is ${wide} px too wide`);
    const boxes: { text: string; box: DOMRect; of: Element }[] = [];
    const walker = document.createTreeWalker(document.querySelector('#app')!, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const text = node.textContent?.trim() ?? '';
      const of = node.parentElement!;
      if (
        text === '' ||
        of.closest('.visually-hidden, .skip, svg, option, details:not([open]) > :not(summary)')
      )
        continue;
      const style = getComputedStyle(of);
      if (style.visibility === 'hidden' || style.display === 'none') continue;
      const range = document.createRange();
      range.selectNodeContents(node);
      const lines = [...range.getClientRects()].filter(({ width, height }) => width > 1 && height > 1);
      if (style.overflow === 'hidden' && of.scrollWidth > of.clientWidth + 1) found.push(`cut off: ${text}`);
      for (const box of lines) {
        if (box.right > window.innerWidth + 1) found.push(`beyond the edge: ${text}`);
        boxes.push({ text, box, of });
      }
    }
    for (const [i, one] of boxes.entries())
      for (const other of boxes.slice(i + 1)) {
        if (one.of === other.of || one.of.contains(other.of) || other.of.contains(one.of)) continue;
        const across = Math.min(one.box.right, other.box.right) - Math.max(one.box.left, other.box.left);
        const down = Math.min(one.box.bottom, other.box.bottom) - Math.max(one.box.top, other.box.top);
        // A line's box is higher than its letters: a third of it may be shared.
        const least = Math.min(one.box.height, other.box.height);
        const sticky = [one.of, other.of].some((of) => {
          for (let at: Element | null = of; at; at = at.parentElement)
            if (getComputedStyle(at).position === 'sticky') return true;
          return false;
        });
        if (!sticky && across > 2 && down > least / 3) found.push(`“${one.text}” lies on “${other.text}”`);
      }
    return [...new Set(found)];
  });

describe('the language', () => {
  it('is chosen in the settings, changes everything at once, and is remembered', async () => {
    const { page, context, problems } = await app.page(PHONE);
    await remember(page, {});
    await page.goto(`${app.url}#/settings`);
    await heading(page, 'Settings');
    expect(await violationsIn(page, 'settings')).toEqual([]);
    // `remember` writes before every load: what is chosen is read from the disk here.
    await page.getByLabel('Deutsch').check();
    await heading(page, 'Einstellungen');
    expect(await page.evaluate(() => document.documentElement.lang)).toBe('de');
    await page.locator('nav a', { hasText: 'Üben' }).waitFor(PATIENCE);
    const kept = await page.evaluate(
      () => JSON.parse(localStorage.getItem('twobar.settings')!) as { language: string },
    );
    expect(kept.language).toBe('de');
    await page.getByLabel('Español').check();
    await heading(page, 'Ajustes');
    expect(await violationsIn(page, 'settings')).toEqual([]);
    expect(problems).toEqual([]);
    await context.close();
  });

  for (const language of ['en', 'de', 'es'] as const)
    for (const [name, options] of [
      ['phone', PHONE],
      ['desk', {}],
    ] as const)
      it(`${language} fits every page on a ${name}`, async () => {
        const { page, context, problems } = await app.page(options);
        await remember(page, { language });
        await page.goto(`${app.url}#/`);
        for (const address of PAGES) {
          await page.goto(`${app.url}#${address}`);
          await page.locator('main h1').first().waitFor(PATIENCE);
          await page.waitForTimeout(400);
          const shots = process.env['TWOBAR_SHOTS'];
          if (shots)
            await page.screenshot({
              path: `${shots}-${language}-${name}-${address.slice(1) || 'start'}.png`,
            });
          expect(await misfits(page), address).toEqual([]);
        }
        expect(problems).toEqual([]);
        await context.close();
      });

  it('names notes as it does: the strings of a guitar in German and in fixed do', async () => {
    const { page, context } = await app.page();
    await remember(page, { language: 'de' });
    await page.goto(`${app.url}#/check`);
    await page.getByRole('button', { name: 'Verstanden' }).click();
    await page
      .locator('option', { hasText: 'E A D G H E' })
      .first()
      .waitFor({ ...PATIENCE, state: 'attached' });
    await context.close();
    const other = await app.page();
    await remember(other.page, { language: 'es' });
    await other.page.goto(`${app.url}#/check`);
    await other.page.getByRole('button', { name: 'Entendido' }).click();
    await other.page
      .locator('option', { hasText: 'Mi La Re Sol Si Mi' })
      .first()
      .waitFor({ ...PATIENCE, state: 'attached' });
    await other.context.close();
  });
});

it('a drill begins three presses from any page, on a phone, and is remembered', async () => {
  const { page, context, problems } = await app.page(PHONE);
  await remember(page, { output: 'headphones' });
  await page.goto(`${app.url}#/about`);
  await heading(page, 'About');
  await page.locator('nav a', { hasText: 'Practice' }).click();
  await page.getByLabel('Call and response').check();
  await page.getByRole('button', { name: 'Begin the drill' }).click();
  await sounding(page);
  await step(page, 'Listen');
  const kept = await page.evaluate(
    () => JSON.parse(localStorage.getItem('twobar.settings')!) as { drill: { what: string } },
  );
  expect(kept.drill.what).toBe('answer');
  expect(problems).toEqual([]);
  await context.close();
});
