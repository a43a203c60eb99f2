import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { packSample, sampleBackup } from '../store/support/backup.ts';
import { violationsIn } from './axe.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';

const PATIENCE = { timeout: 60_000 };
const heading = (page: Page, text: string) =>
  page.locator('h1, h2', { hasText: text }).first().waitFor(PATIENCE);
const SETTINGS = JSON.stringify({ checked: true, manner: 'strict', level: 1 });

/** A week of one student's practice, as a backup file. */
async function demoFile(): Promise<string> {
  const path = join(tmpdir(), `twobar-demo-${process.pid}.twobar`);
  const sample = sampleBackup(24);
  const json = sample.json as { records: { attempts: { atMs: number; order: number }[] } };
  const now = Date.now();
  json.records.attempts.forEach((attempt, i) => {
    attempt.atMs = now - (24 - i) * 6 * 3_600_000;
    attempt.order = attempt.atMs;
  });
  writeFileSync(path, await packSample(sample));
  return path;
}

async function restored(app: ServedApp, options: Parameters<ServedApp['page']>[0] = {}) {
  const opened = await app.page(options);
  await opened.page.addInitScript((text) => localStorage.setItem('twobar.settings', text), SETTINGS);
  await opened.page.goto(`${app.url}#/data`);
  await heading(opened.page, 'Data');
  await opened.page.locator('input[type=file]').setInputFiles(await demoFile());
  await opened.page.getByText('24 tests of 1 new students were added').waitFor(PATIENCE);
  return opened;
}

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
    await page.goto(`${app.url}#/teacher/${'1'.padStart(32, '0')}/sheet`);
    await page.getByText('Sing it first.').waitFor(PATIENCE);
    await page.getByRole('heading', { name: /Melody \d+: 42/ }).waitFor(PATIENCE);
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
      for (const hash of ['#/teacher', `#/teacher/${'1'.padStart(32, '0')}`, '#/progress']) {
        await page.goto(`${app.url}${hash}`);
        await page.getByText('A. B.').first().waitFor(PATIENCE);
        if (hash.length > 12) await page.getByRole('button', { name: 'Copy the link' }).waitFor(PATIENCE);
        else await page.getByText('A. B.').last().waitFor(PATIENCE);
        if (hash === '#/progress') await heading(page, 'Marks');
        texts.push(await page.locator('main').innerText());
      }
      return texts;
    };
    const before = await read(first.page);
    await first.context.close();
    const second = await app.page();
    await second.page.addInitScript((text) => localStorage.setItem('twobar.settings', text), SETTINGS);
    await second.page.goto(`${app.url}#/data`);
    await heading(second.page, 'Data');
    const file = { name: 'backup.twobar', mimeType: 'application/octet-stream', buffer };
    await second.page.locator('input[type=file]').setInputFiles(file);
    await second.page.getByText('24 tests of 1 new students were added').waitFor(PATIENCE);
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

  it('carry homework from teacher to student and back, once each', async () => {
    const teacher = await restored(app);
    await teacher.page.goto(`${app.url}#/teacher/${'1'.padStart(32, '0')}`);
    await teacher.page.evaluate(() => {
      const kept: string[] = [];
      Object.assign(window, { __copied: kept });
      Object.defineProperty(navigator, 'clipboard', {
        value: { writeText: (text: string) => Promise.resolve(void kept.push(text)) },
      });
    });
    await teacher.page.getByRole('button', { name: 'Make a link' }).click();
    // The backup brought one homework of one test: until the new one is there, the first link is still that one's.
    await teacher.page.getByText('3 tests, set').waitFor(PATIENCE);
    await teacher.page.getByRole('button', { name: 'Copy the link' }).first().click();
    await teacher.page.getByRole('button', { name: 'Copied' }).waitFor(PATIENCE);
    const link = await teacher.page.evaluate(
      () => (window as unknown as { __copied: string[] }).__copied[0]!,
    );
    expect(link).toContain('#homework=');
    const student = await app.page();
    await student.page.goto(link);
    await student.page.getByText('3 tests from your teacher').waitFor(PATIENCE);
    await student.page.getByRole('button', { name: 'Begin test 3' }).waitFor(PATIENCE);
    await student.page.goto('about:blank');
    await student.page.goto(`${app.url}#homework=${link.split('#homework=')[1]!.slice(0, -9)}`);
    await student.page.getByRole('alert').waitFor(PATIENCE);
    await student.context.close();
    await teacher.context.close();
  });

  it('tell a take that a crash lost, once, and keep everything before it', async () => {
    const { page, context } = await restored(app);
    await page.goto(`${app.url}#/start/melody/1/1`);
    await heading(page, 'What would you like');
    await page.keyboard.press('PageDown');
    await page.waitForFunction(() => (window.__twobarPlayer?.started.length ?? 0) > 0, null, PATIENCE);
    await page.keyboard.press('PageDown');
    await page.locator('li[aria-current="step"]', { hasText: 'Find it' }).waitFor(PATIENCE);
    await page.keyboard.press('PageDown');
    await page.locator('li[aria-current="step"]', { hasText: 'Play' }).waitFor(PATIENCE);
    // The take's beginning is on the disk within a moment of its first sample.
    await page.waitForFunction(
      () =>
        new Promise<boolean>((resolve) => {
          const asked = indexedDB.open('twobar');
          asked.onsuccess = () => {
            const db = asked.result;
            const count = db.transaction('drafts').objectStore('drafts').count();
            count.onsuccess = () => (db.close(), resolve(count.result === 1));
          };
        }),
      null,
      { timeout: 10_000 },
    );
    await page.close();
    const again = await context.newPage();
    await again.goto(app.url);
    await again.getByText('A take was in progress').waitFor(PATIENCE);
    await again.getByRole('button', { name: 'Understood' }).click();
    await again.reload();
    await heading(again, 'What would you like');
    expect(await again.getByText('A take was in progress').count()).toBe(0);
    await again.goto(`${app.url}#/teacher/${'1'.padStart(32, '0')}`);
    await again.locator('main ul').first().locator('li').first().waitFor(PATIENCE);
    expect(await again.locator('main ul').first().locator('li').count()).toBe(24);
    await context.close();
  });
});
