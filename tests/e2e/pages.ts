import { writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import type { Settings } from '../../src/ui/settings/types.ts';
import { packSample, sampleBackup } from '../store/support/backup.ts';
import type { ServedApp } from './app.ts';
import { PATIENCE } from './patience.ts';

export { PATIENCE };

export const heading = (page: Page, text: string): Promise<void> =>
  page.locator('h1, h2', { hasText: text }).first().waitFor(PATIENCE);
export const onward = (page: Page): Promise<void> => page.keyboard.press('PageDown');
/** Waits until this step of the test is the current one. */
export const step = (page: Page, word: string): Promise<void> =>
  page.locator('li[aria-current="step"]', { hasText: word }).waitFor(PATIENCE);

/** Puts settings in place before the app reads them: the sound check is behind us. */
export const remember = (page: Page, settings: Partial<Settings>): Promise<unknown> =>
  page.addInitScript(
    (kept) => localStorage.setItem('twobar.settings', kept),
    JSON.stringify({ checked: true, ...settings }),
  );

/** Begins the test that the address names and waits until its sound has started. */
export async function beginLinked(page: Page, app: ServedApp, linked: string): Promise<void> {
  await page.goto(`${app.url}#/start/${linked}`);
  await heading(page, 'What would you like');
  await onward(page);
  await sounding(page);
}
/** How many buffers the app has started so far. */
export const soundsSoFar = (page: Page): Promise<number> =>
  page.evaluate(() => window.__twobarPlayer?.started.length ?? 0);
/** Until the app has started more buffers than `before`. */
export const sounding = (page: Page, before = 0): Promise<unknown> =>
  page.waitForFunction((n) => (window.__twobarPlayer?.started.length ?? 0) > n, before, PATIENCE);

/** Relaxed: from the hearing past the practice window into the take, by the pedal. */
export async function straightToTheTake(page: Page): Promise<void> {
  await onward(page);
  await step(page, 'Find it');
  await onward(page);
  await step(page, 'Play');
}

/**
 * Until the app has made its record: whoever opens it before makes an empty one that has no table. On some pages it comes a
 * moment after the heading.
 */
export async function recordThere(page: Page): Promise<void> {
  const until = Date.now() + PATIENCE.timeout;
  const there = (): Promise<boolean> =>
    page.evaluate(async () =>
      (await indexedDB.databases()).some(({ name, version = 0 }) => name === 'twobar' && version > 1),
    );
  while (!(await there())) {
    if (Date.now() > until) throw new Error('the app never made its record');
    await page.waitForTimeout(20);
  }
}

/** Rows of a table of the record, read beside the app. */
export async function rowsOf<T>(page: Page, table: string): Promise<T[]> {
  await recordThere(page);
  return page.evaluate(
    (name) =>
      new Promise<T[]>((resolve, reject) => {
        const asked = indexedDB.open('twobar');
        asked.onerror = () => reject(asked.error);
        asked.onsuccess = () => {
          const db = asked.result;
          const all = db.transaction(name).objectStore(name).getAll();
          all.onsuccess = () => (db.close(), resolve(all.result as T[]));
        };
      }),
    table,
  );
}
/** Until a table has this many rows. */
export async function untilRows(page: Page, table: string, count: number): Promise<void> {
  const until = Date.now() + PATIENCE.timeout;
  while ((await rowsOf(page, table)).length !== count) {
    if (Date.now() > until) throw new Error(`${table} never had ${count} rows`);
    await page.waitForTimeout(50);
  }
}

/** The student of the demonstration: "A. B.", 24 tests over the last six days, of our own invention. */
export const DEMO = '1'.padStart(32, '0');
export const DEMO_TESTS = 24;
export const DEMO_RESTORED = `Tests added: ${DEMO_TESTS}. New students: 1.`;

/** Their record as a backup file; the newest test an hour ago. */
export async function demoFile(): Promise<string> {
  const path = join(tmpdir(), `twobar-demo-${process.pid}.twobar`);
  const sample = sampleBackup(DEMO_TESTS);
  const json = sample.json as { records: { attempts: { atMs: number; order: number }[] } };
  (sample.json as { exportedAtMs: number }).exportedAtMs = Date.now() - 60_000;
  const newest = Date.now() - 3_600_000;
  json.records.attempts.forEach((attempt, i) => {
    attempt.atMs = newest - (DEMO_TESTS - 1 - i) * 6 * 3_600_000;
    attempt.order = attempt.atMs;
  });
  writeFileSync(path, await packSample(sample));
  return path;
}

/** Restores the demonstration through the data page. */
export async function restoreDemo(page: Page, app: ServedApp): Promise<void> {
  await page.goto(`${app.url}#/data`);
  await heading(page, 'Data');
  await page.locator('input[type=file]').setInputFiles(await demoFile());
  await page.getByText(DEMO_RESTORED).waitFor(PATIENCE);
}

/** A fresh page with the demonstration in its record. */
export async function restored(app: ServedApp, options: Parameters<ServedApp['page']>[0] = {}) {
  const opened = await app.page(options);
  await remember(opened.page, { manner: 'strict', level: 1 });
  await restoreDemo(opened.page, app);
  return opened;
}

/** Lets `navigator.clipboard` of the page keep what is copied, and reads the last of it. */
export async function keepCopies(page: Page): Promise<() => Promise<string>> {
  await page.evaluate(() => {
    const kept: string[] = [];
    Object.assign(window, { __copied: kept });
    Object.defineProperty(navigator, 'clipboard', {
      value: { writeText: (text: string) => Promise.resolve(void kept.push(text)) },
      configurable: true,
    });
  });
  return () => page.evaluate(() => (window as unknown as { __copied: string[] }).__copied.at(-1)!);
}

/** With TWOBAR_SHOTS=FOLDER the page is kept as pictures in four sizes, to be looked at. */
export async function look(page: Page, name: string): Promise<void> {
  const folder = process.env['TWOBAR_SHOTS'];
  if (!folder) return;
  for (const [width, height] of [
    [768, 1024],
    [844, 390],
    [390, 844],
    [1280, 800],
  ] as const) {
    await page.setViewportSize({ width, height });
    await page.screenshot({ path: join(folder, `${name}-${width}.png`), fullPage: true });
  }
}
