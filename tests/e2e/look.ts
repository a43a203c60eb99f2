import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { LANGUAGES, type Language } from '../../src/ui/messages/language.ts';
import { badTexts } from '../tour/overlaps.ts';
import { tour } from '../tour/tour.ts';
import type { ServedApp } from './app.ts';
import { violationsIn } from './axe.ts';
import { PATIENCE } from './pages.ts';
import { smallTargets } from './touch.ts';

export const WIDE = { width: 1280, height: 800 };
export const PHONE = { width: 390, height: 844 };
export const LYING = { width: 844, height: 390 };
/** A walk past everything takes three minutes where the machine does other work beside. */
export const LONG = 600_000;
/** Stops at which the staves must be on the first screen, whole. */
const WITH_MUSIC = /^(5[0-4]|58|6[345])/;
const SPOKEN = Object.keys(LANGUAGES) as Language[];

/** The page speaks this language from now on, as if another tab had chosen it; what was unfolded is unfolded again. */
async function inLanguage(page: Page, language: Language): Promise<void> {
  const unfolded = await page.locator('main details[open]').count();
  await page.evaluate((chosen) => {
    const place = 'twobar.settings';
    const kept = JSON.parse(localStorage.getItem(place) ?? '{}') as object;
    const newValue = JSON.stringify({ ...kept, language: chosen });
    localStorage.setItem(place, newValue);
    dispatchEvent(new StorageEvent('storage', { key: place, newValue }));
  }, language);
  await page.waitForFunction((tag) => document.documentElement.lang.startsWith(tag), language, PATIENCE);
  if (unfolded > 0)
    await page.evaluate(() =>
      document.querySelectorAll<HTMLDetailsElement>('main details').forEach((at) => (at.open = true)),
    );
  // Staves are drawn anew after the words.
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
}

/** Pages that begin anew when their words change: they are walked past once in each language. */
const BEGINS_ANEW = /^(0|61)/;

/** What is wrong with the texts of this stop in every language, and with the place of its music. */
async function faultsAt(
  name: string,
  page: Page,
  height: number,
  spoken: Language = 'en',
): Promise<string[]> {
  const found: string[] = [];
  const bad = async (language: Language): Promise<void> => {
    found.push(...(await badTexts(page)).map((text) => `${name}, ${language}: ${text}`));
    const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    if (over > 0) found.push(`${name}, ${language}: ${over} px wider than the window`);
  };
  await bad(spoken);
  if (WITH_MUSIC.test(name)) {
    const music = page.locator('.stage .engraved').first();
    const foot = await music.evaluate((at) => at.getBoundingClientRect().bottom, undefined, PATIENCE);
    if (foot > height) found.push(`${name}: the music ends at ${foot} px`);
  }
  if (BEGINS_ANEW.test(name)) return found;
  for (const language of SPOKEN.filter((one) => one !== spoken)) {
    await inLanguage(page, language);
    await bad(language);
  }
  await inLanguage(page, spoken);
  return found;
}

/**
 * Walks past every screen: no text is printed over another or cut off in any language, axe finds nothing, and on a phone
 * nothing to press is smaller than a finger.
 */
export async function lookAt(app: ServedApp, viewport: typeof WIDE): Promise<void> {
  const found: string[] = [];
  const heights: Record<string, number> = {};
  for await (const { name, page, brief } of tour(app, { viewport })) {
    heights[name] = await page.evaluate(() => document.documentElement.scrollHeight);
    found.push(...(await faultsAt(name, page, viewport.height)));
    if (viewport === PHONE) found.push(...(await smallTargets(page)).map((one) => `${name}: ${one}`));
    // What stands for some seconds only is looked through by the test of the main job.
    if (!brief && viewport !== LYING)
      found.push(...(await violationsIn(page, name, viewport === WIDE ? ['light', 'dark'] : ['light'])));
  }
  for (const language of SPOKEN.filter((one) => one !== 'en'))
    for await (const { name, page } of tour(app, {
      viewport,
      parts: ['first'],
      settings: { language },
    }))
      if (BEGINS_ANEW.test(name)) found.push(...(await faultsAt(name, page, viewport.height, language)));
  expect(found).toEqual([]);
  // On a phone neither is a long way before anything is unfolded.
  if (viewport === PHONE)
    for (const name of ['24 progress', '36 own levels', '26 student'])
      expect(heights[name], name).toBeLessThan(3 * PHONE.height);
}
