import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { PracticeTest } from '../../src/music/score.ts';
import type { Attempt } from '../../src/store/index.ts';
import { arm } from '../support/simulated-player.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { press, tabTo, type } from './keyboard.ts';
import {
  DEMO,
  DEMO_RESTORED,
  DEMO_TESTS,
  heading,
  PATIENCE,
  remember,
  restored,
  rowsOf,
  sounding,
  soundsSoFar,
  straightToTheTake,
  untilRows,
} from './pages.ts';
import { playedTake } from './takes.ts';

/** Progress of the demonstration as it is read out: each part's sentence, and two numbers of one of them. */
async function progressOf(page: Page, app: ServedApp) {
  await page.goto(`${app.url}#/progress/${DEMO}`);
  await page.getByRole('radio', { name: 'With help' }).waitFor(PATIENCE);
  await page.getByRole('radio', { name: 'With help' }).check();
  await page.getByRole('heading', { name: 'Finding the note' }).waitFor(PATIENCE);
  const parts = await page.locator('main li .visually-hidden').allTextContents();
  const of = (pattern: RegExp) => parts.map((text) => Number(pattern.exec(text)?.[1] ?? NaN));
  const first = parts.findIndex((text) => text.startsWith('first notes of a phrase'));
  return { parts, notes: of(/from (\d+) notes/).sort(), firstNotes: of(/about (\d+) in 100/)[first]! };
}

describe('practice and the teacher’s desk in the built app', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(() => app.close());

  it('carry a lesson by keyboard alone: a test in two presses, its marks overridden, a note, the sheet, blind marks, a backup', async () => {
    const { page, context, problems } = await restored(app);
    await remember(page, { manner: 'relaxed', level: 1 });
    await page.addInitScript(() => (window.print = () => (document.title += ' printed')));
    await page.goto(`${app.url}#/teacher`);
    await page.reload();
    await page.locator('table[aria-busy="false"]').waitFor(PATIENCE);

    // A test of the day before yesterday is in no backup: the desk says so, quietly, until it is told to wait.
    await page.evaluate((studentId) => {
      const row = { attemptId: 'e'.repeat(32), studentId, atMs: Date.now() - 2 * 86_400_000 };
      return new Promise((resolve, reject) => {
        const asked = indexedDB.open('twobar');
        asked.onerror = () => reject(asked.error);
        asked.onsuccess = () => {
          const writing = asked.result.transaction('unbacked', 'readwrite');
          writing.objectStore('unbacked').put(row);
          writing.oncomplete = () => (asked.result.close(), resolve(null));
        };
      });
    }, DEMO);
    await page.reload();
    const due = page.getByText('The last backup is from today. One test is in no backup.');
    await due.waitFor(PATIENCE);
    await press(page, 'Not today');
    await due.waitFor({ ...PATIENCE, state: 'detached' });

    await type(page, 'Name or initials', 'C. D.');
    await page.keyboard.press('Enter');
    await page.getByRole('link', { name: 'C. D.' }).waitFor(PATIENCE);

    await press(page, 'Run a test: A. B.');
    await page.getByRole('button', { name: 'Begin' }).nth(1).waitFor(PATIENCE);
    const kept = await rowsOf<{ name: string; value: { test: PracticeTest } }>(page, 'derived');
    await arm(page, await playedTake(kept.find(({ name }) => name === 'next melody')!.value.test));
    const before = await soundsSoFar(page);
    await press(page, 'Begin');
    await sounding(page, before);
    await straightToTheTake(page);
    await page.getByText('Kept under “A. B.”').waitFor(PATIENCE);
    await untilRows(page, 'attempts', DEMO_TESTS + 1);

    await press(page, /^Teacher$/);
    await page.locator('table[aria-busy="false"]').waitFor(PATIENCE);
    const onceBefore = await progressOf(page, app);
    await page.goto(`${app.url}#/teacher`);
    await page.locator('table[aria-busy="false"]').waitFor(PATIENCE);
    await press(page, 'A. B.');
    await page.getByText('Lesson notes').waitFor(PATIENCE);
    await press(page, await page.locator('main ul a').first().innerText());
    await page.getByText('Change a verdict').waitFor(PATIENCE);
    const machine = await page.locator('p.number').textContent();
    await type(page, 'Remark', 'Sing it first.');
    await press(page, 'Change a verdict');
    for (const note of [1, 2]) {
      await tabTo(page, `Verdict on note ${note} `);
      await page.keyboard.press('w');
    }
    await press(page, 'Keep mark and remark');
    await page.getByText('Twobar’s mark stays beside it.').waitFor(PATIENCE);
    expect(await page.getByText('Twobar’s mark:').textContent()).toContain(machine);
    // The verdicts that the teacher gave are what progress is drawn from.
    const onceOverridden = await progressOf(page, app);
    expect(onceOverridden.notes).toEqual(onceBefore.notes);
    expect(onceOverridden.parts).not.toEqual(onceBefore.parts);
    expect(onceOverridden.firstNotes).toBeLessThan(onceBefore.firstNotes);

    await page.goto(`${app.url}#/teacher/${DEMO}`);
    await page.getByText('Lesson notes').waitFor(PATIENCE);
    await type(page, 'New note', 'Bar two slowly.');
    await press(page, 'Keep the note');
    await page.locator('.note', { hasText: 'Bar two slowly.' }).waitFor(PATIENCE);
    await press(page, 'Lesson sheet');
    await page.getByText('Sing it first.').waitFor(PATIENCE);
    await page.getByText('Bar two slowly.').waitFor(PATIENCE);
    await page.locator('article .engraved svg').nth(3).waitFor(PATIENCE);
    await press(page, 'Print');
    expect(await page.title()).toContain('printed');
    for (const format of ['A4', 'Letter'] as const) {
      const pdf = await page.pdf({ format });
      if (process.env['TWOBAR_PICTURES'])
        writeFileSync(join(process.env['TWOBAR_PICTURES'], `sheet-${format}.pdf`), pdf);
      expect(pdf.length).toBeGreaterThan(10_000);
    }

    await press(page, /^Teacher$/);
    await page.locator('table[aria-busy="false"]').waitFor(PATIENCE);
    await press(page, 'Mark takes blind');
    await page.getByText('One take left').waitFor(PATIENCE);
    const [{ attemptId } = { attemptId: '' }] = await rowsOf<{ attemptId: string }>(page, 'audio');
    const heard = (await rowsOf<Attempt>(page, 'attempts')).find(({ id }) => id === attemptId)!;
    const machines = new RegExp(`\\b${Math.round(heard.mark.mark!)}\\b`);
    // Intro and field name the range, and the take may well be a 100.
    const shown = (await page.locator('main .page').innerText()).replaceAll('0 to 100', '');
    expect(shown).not.toMatch(machines);
    await type(page, 'Your initials', 'kt');
    await type(page, 'Your mark, 0 to 100', '61');
    await press(page, 'Give this mark');
    await page.getByText(`You gave 61, Twobar ${Math.round(heard.mark.mark!)}.`).waitFor(PATIENCE);
    const table = page.waitForEvent('download');
    await press(page, 'Save the marks as a table');
    expect(readFileSync(await (await table).path(), 'utf8')).toMatch(/,kt,61,/);

    await press(page, 'More');
    await press(page, 'Data');
    await page.getByText('2 tests are in no backup.').waitFor(PATIENCE);
    const file = page.waitForEvent('download');
    await press(page, 'Save everything to one file');
    expect((await file).suggestedFilename()).toMatch(/^twobar-\d{4}-\d\d-\d\d\.twobar$/);
    await page.getByText('The last backup is from today. Everything here is in a backup.').waitFor(PATIENCE);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('find one of many students by a few letters, from the desk to a test in two presses', async () => {
    const { page, context, problems } = await app.page();
    await remember(page, { manner: 'strict', level: 1 });
    await page.goto(`${app.url}#/teacher`);
    await page.getByText('No student yet').waitFor(PATIENCE);
    const names = [...'ABCDEFGHIJKLM'].map((letter) => `${letter}. ${letter === 'K' ? 'O' : 'U'}.`);
    for (const name of names) {
      await page.getByLabel('Name or initials').fill(name);
      await page.keyboard.press('Enter');
      await page.getByRole('link', { name }).waitFor(PATIENCE);
    }
    const rows = page.locator('main tbody tr');
    await tabTo(page, 'Find by name');
    await page.keyboard.type('ko');
    await page.getByText('1 of 13').waitFor(PATIENCE);
    expect(await rows.count()).toBe(1);
    await press(page, 'Run a test: K. O.');
    await page
      .locator('header option:checked', { hasText: 'K. O.' })
      .waitFor({ ...PATIENCE, state: 'attached' });
    // What is offered has come: until then it pushes what stands below it out of view.
    await page.getByRole('button', { name: 'Begin', exact: true }).nth(1).waitFor(PATIENCE);
    await press(page, /^Teacher$/);
    await rows.nth(12).waitFor(PATIENCE);
    expect(problems).toEqual([]);
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
        const main = page.locator('main').getByText('A. B.');
        await main.first().waitFor(PATIENCE);
        if (hash.length > 12) await page.getByRole('button', { name: 'Copy the link' }).waitFor(PATIENCE);
        else await main.last().waitFor(PATIENCE);
        if (hash === '#/progress') await page.getByText('Fewer than five tests so far:').waitFor(PATIENCE);
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
    await second.page.getByText('Tests added: 0. New students: 0.').waitFor(PATIENCE);
    const cut = { ...file, buffer: buffer.subarray(0, 999) };
    await second.page.locator('input[type=file]').setInputFiles(cut);
    await second.page.getByRole('alert').getByText('cut off').waitFor(PATIENCE);
    expect(await read(second.page)).toEqual(before);
    await second.context.close();
  });
});
