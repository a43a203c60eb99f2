import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeTest } from '../../src/tests-engine/index.ts';
import { arm } from '../support/simulated-player.ts';
import { HOUSE_STUDENT, restoreHouse } from '../tour/house.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { onward, PATIENCE, remember, sounding, step } from './pages.ts';
import { counted, isMusic, overprinted, pagesOf, PAPERS, said, type Printed } from './printed.ts';
import { playedTake } from './takes.ts';

describe('what is printed, as the browser makes it on A4 and Letter', () => {
  let app: ServedApp;
  let page: Page;
  beforeAll(async () => {
    app = await serveBuiltApp();
    ({ page } = await app.page());
    await remember(page, { manner: 'relaxed', level: 2 });
    await restoreHouse(page, app);
  }, 180_000);
  afterAll(() => app.close());

  async function printed(name: string, paper: (typeof PAPERS)[number]): Promise<Printed[][]> {
    const pdf = await page.pdf({ format: paper });
    if (process.env['TWOBAR_PICTURES'])
      writeFileSync(join(process.env['TWOBAR_PICTURES'], `${name}-${paper}.pdf`), pdf);
    const pages = await pagesOf(pdf);
    // Every page has more on it than its number, says which of how many it is, and nothing stands over something else.
    pages.forEach((one, i) => {
      expect(one.length, `${name}, ${paper}, page ${i + 1}`).toBeGreaterThan(5);
      expect(said(one), `${name}, ${paper}`).toMatch(new RegExp(`${i + 1} ?/ ?${pages.length}`));
      expect(overprinted(one), `${name}, ${paper}, page ${i + 1}`).toEqual([]);
    });
    return pages;
  }

  it('puts two tests on each page of the lesson sheet, four bars too, the heading with the first', async () => {
    await page.goto(`${app.url}#/teacher/${HOUSE_STUDENT}/sheet`);
    await page.locator('article').nth(3).locator('.engraved svg').first().waitFor(PATIENCE);
    for (const paper of PAPERS) {
      const pages = await printed('sheet', paper);
      expect(
        pages.map((one) => counted(one, /(Melody|Rhythm), level \d+:/g)),
        paper,
      ).toEqual([2, 2]);
      expect(said(pages[0]!)).toMatch(/Lesson sheet/);
      expect(said(pages[0]!)).toMatch(/A\. B\./);
      // A test is whole: as many scales of its strip as headings.
      for (const one of pages) expect(counted(one, /\bearly\b(?= |$)/g)).toBeGreaterThanOrEqual(2);
    }
  });

  it('prints progress on two pages, and a student’s page without what is only pressed or filled in', async () => {
    await page.goto(`${app.url}#/progress/${HOUSE_STUDENT}`);
    await page.locator('.channels').waitFor(PATIENCE);
    for (const paper of PAPERS) {
      const pages = await printed('progress', paper);
      expect(pages.length, paper).toBeLessThanOrEqual(2);
      expect(said(pages[0]!)).toMatch(/Which tests: With help/);
      // All of it is there: nothing is left to unfold.
      for (const one of pages) expect(said(one)).not.toMatch(/\d+ more/);
    }
    await page.goto(`${app.url}#/teacher/${HOUSE_STUDENT}`);
    await page.locator('main .homework').waitFor(PATIENCE);
    for (const paper of PAPERS) {
      const pages = await printed('student', paper);
      expect(pages, paper).toHaveLength(1);
      expect(said(pages[0]!)).toMatch(/Lesson notes/);
      expect(said(pages[0]!)).not.toMatch(/Keep the card|Add to homework|Make a link|Delete this student/);
    }
  });

  it('prints a kept attempt of four bars on one page, with name and date', async () => {
    await page.goto(`${app.url}#/teacher/${HOUSE_STUDENT}`);
    await page.locator('a', { hasText: 'Melody, level 8' }).first().click();
    await page.locator('.marked .engraved svg').first().waitFor(PATIENCE);
    for (const paper of PAPERS) {
      const pages = await printed('attempt', paper);
      expect(pages, paper).toHaveLength(1);
      expect(said(pages[0]!)).toMatch(/A\. B\./);
      expect(said(pages[0]!)).toMatch(new RegExp(String(new Date().getFullYear())));
    }
  });

  it('prints a result with the name of who played, the date, the music with the mark, and what was lost in one piece', async () => {
    const made = { kind: 'melody', level: 2, seed: 20261124 } as const;
    await page.goto(`${app.url}#/`);
    await page.locator('header select').selectOption(HOUSE_STUDENT);
    await page.goto(`${app.url}#/start/${made.kind}/${made.level}/${made.seed}`);
    await page.locator('main h1').first().waitFor(PATIENCE);
    await arm(page, await playedTake(makeTest({ ...made, instrument: 'guitar' }), { 3: { higher: 1 } }));
    await onward(page);
    await sounding(page);
    await onward(page);
    await step(page, 'Find it');
    await onward(page);
    await page.locator('.marked .engraved svg').first().waitFor(PATIENCE);
    for (const paper of PAPERS) {
      const pages = await printed('result', paper);
      expect(pages.length, paper).toBeLessThanOrEqual(2);
      const [first] = pages;
      expect(said(first!)).toMatch(/A\. B\./);
      expect(said(first!)).toMatch(new RegExp(String(new Date().getFullYear())));
      expect(
        first!.some(({ text }) => isMusic(text)),
        paper,
      ).toBe(true);
      expect(said(first!)).toMatch(/of 100/);
      const lost = pages.find((one) => said(one).includes('Where points were lost'))!;
      for (const part of ['Notes', 'Rhythm', 'Pulse', 'Keeping going'])
        expect(said(lost), paper).toContain(part);
    }
  });
});
