import { writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { unpackBackup } from '../../../src/store/backup/file.ts';
import type { Attempt } from '../../../src/store/index.ts';
import {
  DEMO,
  DEMO_RESTORED,
  DEMO_TESTS,
  heading,
  PATIENCE,
  remember,
  restored,
  rowsOf,
} from '../../e2e/pages.ts';
import { isMusic, pagesOf, PAPERS, said } from '../../e2e/printed.ts';
import { hasFirefox, serveInFirefox, type FirefoxApp } from './firefox.ts';

describe.skipIf(!hasFirefox)('the record, links, paper and no network in Firefox', () => {
  let app: FirefoxApp;
  let page: Page;
  let problems: string[];
  beforeAll(async () => {
    app = await serveInFirefox();
    ({ page, problems } = await restored(app));
  });
  afterAll(() => app?.close());

  it('saves a backup as a file that restores all of it elsewhere', async () => {
    const file = await app.downloaded(() =>
      page.getByRole('button', { name: 'Save everything to one file' }).click(),
    );
    expect((await unpackBackup(file)).records.attempts).toHaveLength(DEMO_TESTS);
    const path = join(tmpdir(), `twobar-firefox-${process.pid}.twobar`);
    writeFileSync(path, file);
    const other = await app.page();
    await other.page.goto(`${app.url}#/data`);
    await heading(other.page, 'Data');
    await other.page.locator('input[type=file]').setInputFiles(path);
    await other.page.getByText(DEMO_RESTORED).waitFor(PATIENCE);
    const ids = async (at: Page) => (await rowsOf<Attempt>(at, 'attempts')).map(({ id }) => id).sort();
    expect(await ids(other.page)).toEqual(await ids(page));
    expect(other.problems).toEqual([]);
    await other.context.close();
  });

  it('copies a homework link to its clipboard, which opens at the student’s', async () => {
    await page.goto(`${app.url}#/teacher/${DEMO}`);
    await page.getByLabel('Melodies').selectOption('2');
    await page.getByLabel('Rhythms').selectOption('1');
    await page.getByLabel('A line to go with it').fill('Slowly, and sing first.');
    await page.getByRole('button', { name: 'Make a link' }).click();
    await page.getByText('3 tests, set').waitFor(PATIENCE);
    await page.getByRole('button', { name: 'Copy the link' }).first().click();
    await page.getByRole('button', { name: 'Copied' }).waitFor(PATIENCE);
    const link = await page.evaluate(() => navigator.clipboard.readText());
    expect(link).toContain('#homework=');
    const student = await app.page();
    await student.page.goto(link);
    await student.page.getByText('3 tests from your teacher').waitFor(PATIENCE);
    await student.page.getByText('Slowly, and sing first.').waitFor(PATIENCE);
    expect(await student.page.locator('main li').count()).toBe(3);
    expect(student.problems).toEqual([]);
    await student.context.close();
  });

  it('prints the lesson sheet and an attempt on full pages, with names and music', async () => {
    const [attempt] = (await rowsOf<Attempt>(page, 'attempts')).filter(({ studentId }) => studentId === DEMO);
    for (const [hash, music] of [
      [`#/teacher/${DEMO}/sheet`, 'article .engraved svg'],
      [`#/teacher/${DEMO}/${attempt!.id}`, '.marked .engraved svg'],
    ] as const) {
      await page.goto(`${app.url}${hash}`);
      await page.locator(music).first().waitFor(PATIENCE);
      for (const format of PAPERS) {
        const pages = await pagesOf(await page.pdf({ format }));
        // No sheet is blank, each names the player or goes on with what the one before began.
        for (const [i, one] of pages.entries())
          expect(one.length, `${hash}, ${format}, page ${i + 1}`).toBeGreaterThan(5);
        expect(said(pages[0]!), hash).toMatch(/A\. B\./);
        expect(
          pages.flat().some(({ text }) => isMusic(text)),
          hash,
        ).toBe(true);
      }
    }
  });

  it('opens again without a network after the first load', async () => {
    // Not this page's: another server, which is shut down.
    const other = await serveInFirefox();
    const { page: first } = await other.page({ serviceWorkers: 'allow' });
    await remember(first, {});
    await first.goto(other.url);
    await heading(first, 'What would you like');
    await first.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    await first.reload();
    await heading(first, 'What would you like');
    await other.offline();
    await expect(fetch(other.url)).rejects.toThrow();
    await first.reload();
    await heading(first, 'What would you like');
    await first.goto(`${other.url}#/licences`);
    await first.getByText('Literata').first().waitFor(PATIENCE);
    await other.close();
  });

  it('breaks no rule of its own policy and throws nothing along the way', () => {
    expect(problems).toEqual([]);
  });
});
