import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { unpackBackup } from '../../src/store/backup/file.ts';
import type { Attempt, Student } from '../../src/store/index.ts';
import { addSimulatedPlayer } from '../support/simulated-player.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { OUT } from './build.ts';
import { t } from '../../src/ui/messages.ts';
import {
  beginLinked,
  DEMO,
  DEMO_RESTORED,
  DEMO_TESTS,
  demoFile,
  heading,
  onward,
  PATIENCE,
  remember,
  restored,
  rowsOf,
  sounding,
  soundsSoFar,
  step,
  straightToTheTake,
  untilRows,
} from './pages.ts';

/** Much is done here in other tabs while a take runs: it must last until then. */
const TRUE_PACE = 1;

const result = (page: Page) => page.getByRole('button', { name: 'Next test' }).waitFor(PATIENCE);
/** The take is ended at once: what matters here is what becomes of it. */
async function played(page: Page, app: ServedApp, linked: string): Promise<void> {
  await beginLinked(page, app, linked);
  await straightToTheTake(page);
  await onward(page);
  await result(page);
}
/** Another page of the same browser, with a player of its own. */
async function another(context: BrowserContext): Promise<Page> {
  const page = await context.newPage();
  await addSimulatedPlayer(page, TRUE_PACE);
  return page;
}
const turn = (page: Page, state: 'hidden' | 'visible') =>
  page.evaluate((now) => {
    Object.defineProperty(document, 'visibilityState', { value: now, configurable: true });
    document.dispatchEvent(new Event('visibilitychange'));
  }, state);
const deleteDatabase = (page: Page) =>
  page.evaluate(
    () =>
      new Promise<void>((resolve) => {
        indexedDB.deleteDatabase('twobar').onsuccess = () => resolve();
      }),
  );
/** The browser throws the record away, as it may when space is short: no page is asked. */
async function evict(context: BrowserContext, page: Page, app: ServedApp): Promise<void> {
  const cdp = await context.newCDPSession(page);
  await cdp.send('Storage.clearDataForOrigin', {
    origin: new URL(app.url).origin,
    storageTypes: 'indexeddb',
  });
}
async function restoreAgain(page: Page, app: ServedApp, file: string, said: string): Promise<void> {
  await page.goto(`${app.url}#/data`);
  await heading(page, 'Data');
  await page.locator('input[type=file]').setInputFiles(file);
  await page.getByText(said).waitFor(PATIENCE);
}

describe('trouble in the built app', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp({ pace: TRUE_PACE });
  }, 180_000);
  afterAll(() => app.close());

  it('a key held down is one press: the first note sounds once, and the take is kept', async () => {
    const { page, context, problems } = await restored(app);
    await remember(page, { manner: 'relaxed', level: 1 });
    await page.reload();
    await beginLinked(page, app, 'melody/1/3');
    await onward(page);
    await step(page, 'Find it');
    for (const key of ['ArrowLeft', 'Enter']) {
      if (key === 'Enter') await page.getByRole('button', { name: t('test.help.first') }).focus();
      const before = await soundsSoFar(page);
      for (let i = 0; i < 12; i++) await page.keyboard.down(key);
      await page.keyboard.up(key);
      // It sounds once it is made, and then there must be no second.
      await sounding(page, before);
      await page.waitForTimeout(1500);
      expect((await soundsSoFar(page)) - before, key).toBe(1);
    }
    await onward(page);
    await step(page, 'Play');
    await onward(page);
    await result(page);
    await untilRows(page, 'attempts', DEMO_TESTS + 1);
    const newest = (await rowsOf<Attempt>(page, 'attempts')).sort((a, b) => b.order - a.order)[0]!;
    expect(newest.help).toMatchObject({ 'first-note': 2 });
    expect(problems).toEqual([]);
    await context.close();
  });

  it('a student deleted in another tab during their test: whose the take is is asked, and answered it is kept', async () => {
    const { page, context, problems } = await restored(app);
    await remember(page, { manner: 'relaxed', level: 1 });
    await beginLinked(page, app, 'melody/1/4');
    await straightToTheTake(page);
    await untilRows(page, 'drafts', 1);
    const other = await another(context);
    await other.goto(`${app.url}#/teacher`);
    await other.getByLabel('Name or initials').fill('K. O.');
    await other.getByRole('button', { name: 'Add a student' }).click();
    await other.getByRole('link', { name: 'K. O.' }).waitFor(PATIENCE);
    await other.goto(`${app.url}#/teacher/${DEMO}`);
    await other.getByRole('button', { name: t('student.delete') }).click();
    await other.getByRole('button', { name: t('student.delete.yes') }).click();
    await untilRows(other, 'attempts', 0);
    await page.bringToFront();
    await onward(page);
    await result(page);
    await page.getByText('Whose is it?').waitFor(PATIENCE);
    expect(await rowsOf(page, 'attempts')).toEqual([]);
    await page.getByLabel('Whose is it?').selectOption({ label: 'K. O.' });
    await untilRows(page, 'attempts', 1);
    const [student] = await rowsOf<Student>(page, 'students');
    expect(student!.name).toBe('K. O.');
    expect((await rowsOf<Attempt>(page, 'attempts')).map(({ studentId }) => studentId)).toEqual([
      student!.id,
    ]);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('text that is being typed is there again after the page was loaded anew, until it is saved', async () => {
    const { page, context, problems } = await restored(app);
    const note = page.getByLabel(t('student.notes.new'));
    await page.goto(`${app.url}#/teacher/${DEMO}`);
    await note.fill('Breathe before the leap.');
    await page.reload();
    await expect.poll(() => note.inputValue(), PATIENCE).toBe('Breathe before the leap.');
    await page.getByRole('button', { name: t('student.notes.add') }).click();
    await untilRows(page, 'lessonNotes', 2);
    await page.reload();
    await heading(page, 'A. B.');
    expect(await note.inputValue()).toBe('');

    const [attempt] = await rowsOf<Attempt>(page, 'attempts');
    await page.goto(`${app.url}#/teacher/${DEMO}/${attempt!.id}`);
    const remark = page.getByLabel(t('attempt.remark'), { exact: true });
    await remark.fill('Sing it first');
    const mark = page.getByLabel(t('attempt.teacher'));
    await mark.fill('77');
    await page.reload();
    await expect.poll(() => remark.inputValue(), PATIENCE).toBe('Sing it first');
    expect(await mark.inputValue()).toBe('77');

    await page.goto(`${app.url}#/phrases/levels`);
    const name = page.getByLabel(t('levels.name')).first();
    await name.fill('Thirds only');
    await page.reload();
    await expect.poll(() => name.inputValue(), PATIENCE).toBe('Thirds only');
    await page.getByText(t('typed.back')).waitFor(PATIENCE);

    // A phrase that was never saved, and its name.
    await page.goto(`${app.url}#/phrases`);
    await page.getByRole('button', { name: t('phrases.write') }).click();
    const phrase = page.getByLabel(t('edit.name'));
    await phrase.fill('Bridge');
    await page.reload();
    await expect.poll(() => phrase.inputValue(), PATIENCE).toBe('Bridge');
    expect(problems).toEqual([]);
    await context.close();
  });

  it('a record that never opens: the test works, its result shows, says that it is not kept, and a file keeps it', async () => {
    const { page, context, problems } = await app.page();
    await page.addInitScript(() => {
      // A database that gives no answer at all, as in a broken profile; localStorage gives the way back.
      if (localStorage.getItem('answers')) return;
      IDBFactory.prototype.open = () => ({ addEventListener() {}, removeEventListener() {} }) as never;
    });
    await remember(page, { manner: 'relaxed', level: 1 });
    await page.goto(`${app.url}#/start/melody/1/6`);
    await heading(page, 'What would you like');
    await onward(page);
    await sounding(page);
    await straightToTheTake(page);
    await onward(page);
    await result(page);
    await page.getByText('The browser gives no answer when the record is opened.').first().waitFor(PATIENCE);
    await page.getByText('This take is not in the record yet.').first().waitFor(PATIENCE);
    const download = page.waitForEvent('download', PATIENCE);
    await page.getByRole('button', { name: 'Save to a file' }).click();
    const path = await (await download).path();
    expect((await unpackBackup(new Uint8Array(readFileSync(path)))).records.attempts).toHaveLength(1);
    await page.evaluate(() => localStorage.setItem('answers', '1'));
    await page.reload();
    await restoreAgain(page, app, path, 'Tests added: 1. New students: 1.');
    expect(await rowsOf(page, 'attempts')).toHaveLength(1);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('blocked storage: it says that nothing is kept, and why; in an ordinary window it is', async () => {
    const { page, context, problems } = await app.page();
    await page.addInitScript(() => {
      const blocked = () => {
        throw new DOMException('The user denied permission to access the database.', 'SecurityError');
      };
      IDBFactory.prototype.open = blocked;
      Object.defineProperty(window, 'localStorage', { get: blocked });
    });
    await page.goto(`${app.url}#/start/melody/1/6`);
    await heading(page, 'What would you like');
    await page.getByText('This browser keeps nothing here').waitFor(PATIENCE);
    expect(problems).toEqual([]);
    // "Tests work without one."
    await onward(page);
    await heading(page, 'Before you play');
    await context.close();
    // "Open Twobar in an ordinary window": there it is kept.
    const usual = await app.page();
    await remember(usual.page, { manner: 'relaxed', level: 1 });
    await played(usual.page, app, 'melody/1/6');
    await untilRows(usual.page, 'attempts', 1);
    await usual.context.close();
  });

  it('the record deleted in a take: what is said to do brings the take and the record back', async () => {
    const { page, context } = await restored(app);
    await remember(page, { manner: 'relaxed', level: 1 });
    await beginLinked(page, app, 'melody/1/8');
    await straightToTheTake(page);
    await untilRows(page, 'drafts', 1);
    const other = await another(context);
    await other.goto(`${app.url}icon.svg`);
    await deleteDatabase(other);
    await other.close();
    await onward(page);
    await result(page);
    await page.getByText('This take is not in the record yet.').first().waitFor(PATIENCE);
    await page.getByText('or save what is here to a file').first().waitFor(PATIENCE);
    const download = page.waitForEvent('download', PATIENCE);
    await page.getByRole('button', { name: 'Save to a file' }).click();
    const take = await (await download).path();
    await page.reload();
    // What the browser has removed is told, with the way back; both files are restored, and nothing is missing.
    await page.getByText('The browser has removed the record that was here.').waitFor(PATIENCE);
    await restoreAgain(page, app, take, 'New students: 1.');
    await restoreAgain(page, app, await demoFile(), `Tests added: ${DEMO_TESTS}.`);
    expect(await rowsOf(page, 'attempts')).toHaveLength(DEMO_TESTS + 1);
    await context.close();
  });

  it('a record that the browser removed is told once with the way back; one that was deleted here is not', async () => {
    const { page, context, problems } = await restored(app);
    await evict(context, page, app);
    // One load: the first that finds the record gone says so.
    await page.reload();
    const told = page.getByText('The browser has removed the record that was here.');
    await told.waitFor(PATIENCE);
    await page.getByText('Restore your last backup on the data page.').waitFor(PATIENCE);
    await restoreAgain(page, app, await demoFile(), DEMO_RESTORED);
    await page.reload();
    await heading(page, 'Data');
    await page.waitForTimeout(500);
    expect(await told.count()).toBe(0);
    await page.getByRole('button', { name: t('data.delete') }).click();
    await page.getByRole('button', { name: t('student.delete.yes') }).click();
    await untilRows(page, 'attempts', 0);
    await page.goto(app.url);
    await page.reload();
    await heading(page, 'What would you like');
    await page.waitForTimeout(500);
    expect(await told.count()).toBe(0);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('a clock that is years off: every take is kept in the order they were played, and nothing is lost when it is right again', async () => {
    const { page: first, context, problems } = await app.page();
    const year = 365.25 * 86_400_000;
    let page = first;
    const seeds: number[] = [];
    for (const [seed, years] of [
      [11, 0],
      [12, 4],
      [13, -6],
      [14, 0],
    ] as const) {
      if (seeds.length > 0) {
        page = await another(context);
        page.on('pageerror', (error) => problems.push(error.message));
      }
      await page.addInitScript((off) => {
        const now = Date.now.bind(Date);
        const Real = Date;
        Date.now = () => now() + off;
        globalThis.Date = new Proxy(Real, {
          construct: (target, args: []) =>
            args.length === 0 ? new target(now() + off) : new target(...args),
        });
      }, years * year);
      await remember(page, { manner: 'relaxed', level: 1 });
      await played(page, app, `melody/1/${seed}`);
      seeds.push(seed);
      await untilRows(page, 'attempts', seeds.length);
      for (const place of ['#/progress', '#/teacher', '#/data', '#/practice']) {
        await page.goto(`${app.url}${place}`);
        await page.locator('h1').first().waitFor(PATIENCE);
      }
      if (seed !== 14) await page.close();
    }
    const rows = await rowsOf<Attempt>(page, 'attempts');
    expect(rows.sort((a, b) => a.order - b.order).map(({ test }) => test.seed)).toEqual(seeds);
    expect(problems).toEqual([]);
    await context.close();
  }, 300_000);
});

describe('an update of the built app', () => {
  const out = mkdtempSync(join(tmpdir(), 'twobar-update-'));
  let app: ServedApp;
  beforeAll(async () => {
    cpSync(OUT, out, { recursive: true });
    app = await serveBuiltApp({ outDir: out, pace: TRUE_PACE });
  }, 180_000);
  afterAll(async () => {
    await app.close();
    rmSync(out, { recursive: true, force: true });
  });

  /** A new version lies on the host: the worker's text is another, and so is what it says of the page. */
  let version = 1;
  function publish(): void {
    version++;
    const worker = join(out, 'sw.js');
    const page = join(out, 'index.html');
    writeFileSync(page, readFileSync(page, 'utf8').replace('</body>', `<!-- ${version} --></body>`));
    writeFileSync(
      worker,
      readFileSync(worker, 'utf8').replace(
        /(\{[^{}]*url:"index\.html"[^{}]*\}|\{[^{}]*"url":"index\.html"[^{}]*\})/,
        `{url:"index.html",revision:"${version}"}`,
      ),
    );
  }
  const look = (page: Page) =>
    page.evaluate(async () => void (await (await navigator.serviceWorker.getRegistration())?.update()));
  const isWaiting = (page: Page) =>
    page.evaluate(async () => Boolean((await navigator.serviceWorker.getRegistration())?.waiting));
  const mark = (page: Page) => page.evaluate(() => void Object.assign(window, { sameAsBefore: true }));
  const wasReloaded = (page: Page) => page.evaluate(() => !('sameAsBefore' in window));
  const loads = async (page: Page) => {
    await page.goto(app.url);
    await heading(page, 'What would you like');
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  };

  it('waits while any tab is in a test or holds text, loads no tab anew under it, and comes once all are free', async () => {
    const { page, context, problems } = await app.page({ serviceWorkers: 'allow' });
    await remember(page, { manner: 'relaxed', level: 1 });
    await loads(page);
    await page.reload();
    const hidden = await another(context);
    await loads(hidden);
    // The first page is in its test; the second, hidden, learns of the new version.
    await page.bringToFront();
    await beginLinked(page, app, 'melody/1/3');
    await mark(page);
    publish();
    await look(hidden);
    await expect.poll(() => isWaiting(hidden), PATIENCE).toBe(true);
    await turn(hidden, 'hidden');
    await page.waitForTimeout(3000);
    expect(await isWaiting(page)).toBe(true);
    expect(await wasReloaded(page)).toBe(false);
    await page.locator('li[aria-current="step"]').waitFor(PATIENCE);

    // The test is over, but a note is being typed: still not.
    await page.getByRole('button', { name: 'Stop' }).click();
    await heading(page, 'What would you like');
    await page.evaluate(() => (location.hash = '#/teacher'));
    await page.getByLabel('Name or initials').fill('A. B.');
    await page.getByRole('button', { name: 'Add a student' }).click();
    await page.getByRole('link', { name: 'A. B.' }).click();
    await page.getByLabel(t('student.notes.new')).fill('Half a sentence');
    await turn(hidden, 'visible');
    await turn(hidden, 'hidden');
    await page.waitForTimeout(2000);
    await turn(page, 'hidden');
    await page.waitForTimeout(1500);
    expect(await isWaiting(page)).toBe(true);
    expect(await wasReloaded(page)).toBe(false);
    expect(await page.getByLabel(t('student.notes.new')).inputValue()).toBe('Half a sentence');

    // The note is saved, but a phrase has only its name so far.
    await turn(page, 'visible');
    await page.getByRole('button', { name: t('student.notes.add') }).click();
    await page.getByText('Half a sentence').waitFor(PATIENCE);
    await page.evaluate(() => (location.hash = '#/phrases'));
    await page.getByRole('button', { name: t('phrases.write') }).click();
    const phrase = page.getByLabel(t('edit.name'));
    await phrase.fill('Bridge');
    await turn(hidden, 'visible');
    await turn(hidden, 'hidden');
    await turn(page, 'hidden');
    await page.waitForTimeout(1500);
    expect(await isWaiting(page)).toBe(true);
    expect(await wasReloaded(page)).toBe(false);
    expect(await phrase.inputValue()).toBe('Bridge');

    // Saved, and nobody is busy: the new version is put in place at the next look away.
    await turn(page, 'visible');
    await page.getByRole('button', { name: t('edit.save'), exact: true }).click();
    await page.getByText(t('edit.saved')).first().waitFor(PATIENCE);
    await turn(hidden, 'visible');
    await turn(hidden, 'hidden');
    await expect.poll(() => isWaiting(page), PATIENCE).toBe(false);
    await turn(page, 'hidden');
    await expect.poll(() => wasReloaded(page).catch(() => false), PATIENCE).toBe(true);
    // It stands at the end of the page, after a script that the parser waits for.
    await expect.poll(() => page.content().catch(() => ''), PATIENCE).toContain(`<!-- ${version} -->`);
    expect(problems).toEqual([]);
    await context.close();
  });
});
