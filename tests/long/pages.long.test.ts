import { writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { t } from '../../src/ui/messages.ts';
import { serveBuiltApp, type ServedApp } from '../e2e/app.ts';
import build from '../e2e/build.ts';
import { heading, PATIENCE, recordThere, remember, untilRows } from '../e2e/pages.ts';
import {
  acceptedBackup,
  acceptedHomework,
  acceptedLinks,
  acceptedPhrases,
  acceptedResults,
  keptSettings,
} from './accepted.ts';

/**
 * Strange things that a door lets in are opened in the built app on every page that shows them: no page may fail, stay empty
 * or show what nobody can read. `TWOBAR_FUZZ=0.2` takes a fifth of them.
 */
const SCALE = Number(process.env['TWOBAR_FUZZ'] ?? 1);
const some = (n: number): number => Math.max(2, Math.round(n * SCALE));

/** Nothing that is read on a page may be one of these. */
const UNREADABLE = /\bundefined\b|\bNaN\b|\[object|Invalid Date|Infinity/;

/** Puts a value under a key of the record, beside the app, as a backup of another machine might. */
async function keep(page: Page, kept: Record<string, unknown>): Promise<void> {
  await recordThere(page);
  await page.evaluate(
    (rows) =>
      new Promise<void>((resolve, reject) => {
        const asked = indexedDB.open('twobar');
        asked.onerror = () => reject(asked.error!);
        asked.onsuccess = () => {
          const db = asked.result;
          const writing = db.transaction('settings', 'readwrite');
          for (const [key, value] of Object.entries(rows))
            writing.objectStore('settings').put({ key, value });
          writing.oncomplete = () => (db.close(), resolve());
          writing.onabort = () => reject(writing.error!);
        };
      }),
    kept,
  );
}

describe('what was let in, on the pages of the built app', () => {
  let app: ServedApp;
  const told: string[] = [];
  beforeAll(async () => {
    await build();
    app = await serveBuiltApp();
  }, 600_000);
  afterAll(async () => {
    await app.close();
    process.stdout.write(`${told.join('\n')}\n`);
  });

  /** A page, and how a place in it is looked at; `wrong` is what was found. */
  async function looking() {
    const { page, context, problems } = await app.page();
    await remember(page, { manner: 'strict', level: 1 });
    const wrong: string[] = [];
    let visits = 0;
    const settled = async (place: string): Promise<string> => {
      // Until the page has a heading and nothing has moved in it for a moment.
      const text = await page.evaluate(async () => {
        const end = Date.now() + 20_000;
        let last = Date.now();
        const watching = new MutationObserver(() => (last = Date.now()));
        watching.observe(document.body, { subtree: true, childList: true, characterData: true });
        const ready = () => document.querySelector('main h1') && Date.now() - last > 100;
        while (!ready() && Date.now() < end) await new Promise((next) => setTimeout(next, 20));
        watching.disconnect();
        return document.querySelector('main h1') ? document.body.innerText : '';
      });
      visits++;
      const bad = UNREADABLE.exec(text);
      if (text === '') wrong.push(`${place}: an empty page`);
      if (bad) wrong.push(`${place}: shows ${text.slice(Math.max(0, bad.index - 40), bad.index + 20)}`);
      if (text.includes(t('error.title'))) wrong.push(`${place}: the page failed`);
      for (const problem of problems.splice(0)) wrong.push(`${place}: ${problem.slice(0, 300)}`);
      return text;
    };
    const look = async (place: string): Promise<string> => {
      await page.evaluate((hash) => (location.hash = hash), place);
      return settled(place.slice(0, 60));
    };
    const done = async (what: string) => {
      told.push(`${what}: ${visits} pages opened`);
      await context.close();
      expect(wrong).toEqual([]);
    };
    await page.goto(`${app.url}#/data`);
    await heading(page, 'Data');
    return { page, look, settled, done };
  }

  it('backups: every student’s pages and every test’s', { timeout: 900_000 }, async () => {
    const { page, look, done } = await looking();
    const { records, file } = await acceptedBackup(some(60));
    const path = join(tmpdir(), `twobar-long-${process.pid}.twobar`);
    writeFileSync(path, file);
    await page.locator('input[type=file]').setInputFiles(path);
    await untilRows(page, 'students', records.students.length);
    for (const place of ['#/teacher', '#/teacher/blind', '#/data', '#/who']) await look(place);
    for (const { id } of records.students) {
      for (const rest of ['', '/sheet', '/report']) await look(`#/teacher/${id}${rest}`);
      await look(`#/progress/${id}`);
      await keep(page, { student: id });
      for (const one of records.attempts.filter(({ studentId }) => studentId === id))
        await look(`#/teacher/${id}/${one.id}`);
    }
    await done(`${records.students.length} backups with ${records.attempts.length} tests`);
  });

  it('homework, results and tests by link', { timeout: 900_000 }, async () => {
    const { page, look, settled, done } = await looking();
    const homework = await acceptedHomework(some(40));
    for (const [i, code] of homework.entries()) {
      await look(`#homework=${code}`);
      if (i % 3 !== 0) continue;
      // Begun: the stage of whatever task it is.
      await page.getByRole('button', { name: t('homework.begin', { number: 1 + (i % 2) }) }).click();
      await page.locator('li[aria-current="step"]').waitFor(PATIENCE);
      await settled(`homework ${i}, begun`);
      await page.getByRole('button', { name: t('test.stop') }).click();
    }
    await look('#/homework');
    const links = await acceptedLinks(some(80));
    for (const code of links) await look(`#test=${code}`);
    const results = await acceptedResults(some(40));
    for (const code of results) await look(`#results=${code}`);
    await done(`${homework.length} homework, ${links.length} tests, ${results.length} results by link`);
  });

  it('phrases of other programs, in the list and in the editor', { timeout: 900_000 }, async () => {
    const { page, look, done } = await looking();
    const phrases = await acceptedPhrases(some(60));
    await keep(page, { ownPhrases: phrases });
    await look('#/phrases');
    for (const { id } of phrases) await look(`#/phrases/${id}`);
    await done(`${phrases.length} phrases`);
  });

  it('what the app keeps for itself, in a record from elsewhere', { timeout: 900_000 }, async () => {
    const { page, look, done } = await looking();
    const kept = keptSettings(some(24));
    for (const settings of kept) {
      await keep(page, settings);
      await page.reload();
      for (const place of ['#/', '#/practice', '#/scales', '#/homework', '#/teacher', '#/data', '#/phrases'])
        await look(place);
      await look('#/phrases/levels');
    }
    await done(`${kept.length} sets of settings`);
  });
});
