import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { violationsIn } from './axe.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { DEMO, DEMO_RESTORED, heading, PATIENCE, remember, restored } from './pages.ts';

describe('practice and the teacher’s desk in the built app', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(() => app.close());

  it('show a week of practice on every page, and axe finds nothing on them', async () => {
    const found: string[] = [];
    for (const viewport of [
      { width: 1280, height: 800 },
      { width: 390, height: 844 },
    ]) {
      const { page, context, problems } = await restored(app, { viewport });
      const schemes = viewport.width > 720 ? (['light', 'dark'] as const) : (['light'] as const);
      const check = async (name: string) => {
        found.push(...(await violationsIn(page, `${name} at ${viewport.width}`, schemes)));
        const width = await page.evaluate(() => document.documentElement.scrollWidth);
        expect(width, name).toBeLessThanOrEqual(viewport.width);
        if (process.env['TWOBAR_PICTURES'])
          await page.screenshot({
            path: join(process.env['TWOBAR_PICTURES'], `${name}-${viewport.width}.png`),
            fullPage: true,
          });
      };
      await check('data');
      await page.goto(`${app.url}#/teacher`);
      await page.getByRole('link', { name: 'A. B.' }).waitFor(PATIENCE);
      await page.locator('table[aria-busy="false"]').waitFor(PATIENCE);
      await check('teacher');
      await page.getByRole('link', { name: 'A. B.' }).click();
      await page.getByText('Lesson notes').waitFor(PATIENCE);
      await page.getByRole('button', { name: 'Make a link' }).click();
      await page.getByRole('img', { name: 'QR code of the homework link' }).first().waitFor(PATIENCE);
      await check('student');
      await page.locator('a', { hasText: 'Melody' }).first().click();
      await page.getByText('Change a verdict').waitFor(PATIENCE);
      await check('attempt');
      await page.goto(`${app.url}#/progress`);
      await heading(page, 'What comes off');
      await check('progress');
      await page.goto(`${app.url}#/practice`);
      await page.getByRole('button', { name: 'Begin' }).first().waitFor(PATIENCE);
      await check('practice');
      await page.goto(`${app.url}#/teacher/blind`);
      await heading(page, 'Mark takes blind');
      await check('blind');
      expect(problems).toEqual([]);
      await context.close();
    }
    expect(found).toEqual([]);
  });

  it('keep a teacher’s mark and remark beside the machine’s, and print them on the lesson sheet', async () => {
    const { page, context } = await restored(app);
    await page.goto(`${app.url}#/teacher`);
    await page.getByRole('link', { name: 'A. B.' }).click();
    await page.locator('a', { hasText: 'Melody' }).first().click();
    await page.getByLabel('Your mark').fill('42');
    await page.getByLabel('Remark').fill('Sing it first.');
    await page.getByRole('button', { name: 'Keep mark and remark' }).click();
    await page.getByText('The machine’s mark stays beside it.').waitFor(PATIENCE);
    expect(await page.getByText('Machine’s mark:').textContent()).toMatch(/\d+/);
    await page.goto(`${app.url}#/teacher/${DEMO}/sheet`);
    await page.getByText('Sing it first.').waitFor(PATIENCE);
    await page.getByRole('heading', { name: /Melody \d+: 42, not there yet/ }).waitFor(PATIENCE);
    for (const format of ['A4', 'Letter'] as const) {
      const pdf = await page.pdf({ format });
      expect(pdf.length).toBeGreaterThan(10_000);
    }
    await context.close();
  });

  it('give back the same record from an export, in an empty browser', async () => {
    const first = await restored(app);
    const download = first.page.waitForEvent('download');
    await first.page.getByRole('button', { name: 'Save everything to one file' }).click();
    const buffer = readFileSync(await (await download).path());
    const read = async (page: Page) => {
      const texts: string[] = [];
      for (const hash of ['#/teacher', `#/teacher/${DEMO}`, '#/progress']) {
        await page.goto(`${app.url}${hash}`);
        await page.getByText('A. B.').first().waitFor(PATIENCE);
        if (hash.length > 12) await page.getByRole('button', { name: 'Copy the link' }).waitFor(PATIENCE);
        else await page.getByText('A. B.').last().waitFor(PATIENCE);
        if (hash === '#/progress') await heading(page, 'Marks');
        if (hash === '#/teacher') await page.locator('table[aria-busy="false"]').waitFor(PATIENCE);
        // The offer of a backup stands above the page: the second machine has made none yet.
        texts.push(await page.locator('main .page').innerText());
      }
      return texts;
    };
    const before = await read(first.page);
    await first.context.close();
    const second = await app.page();
    await remember(second.page, { manner: 'strict', level: 1 });
    await second.page.goto(`${app.url}#/data`);
    await heading(second.page, 'Data');
    const file = { name: 'backup.twobar', mimeType: 'application/octet-stream', buffer };
    await second.page.locator('input[type=file]').setInputFiles(file);
    await second.page.getByText(DEMO_RESTORED).waitFor(PATIENCE);
    expect(await read(second.page)).toEqual(before);
    // The same file again adds nothing; a cut one is refused and changes nothing.
    await second.page.goto(`${app.url}#/data`);
    await second.page.locator('input[type=file]').setInputFiles(file);
    await second.page.getByText('0 tests of 0 new students were added').waitFor(PATIENCE);
    const cut = { ...file, buffer: buffer.subarray(0, 999) };
    await second.page.locator('input[type=file]').setInputFiles(cut);
    await second.page.getByRole('alert').getByText('cut off').waitFor(PATIENCE);
    expect(await read(second.page)).toEqual(before);
    await second.context.close();
  });
});
