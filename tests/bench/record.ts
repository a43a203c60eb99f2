import { readFileSync } from 'node:fs';
import { loadavg } from 'node:os';
import { resolve } from 'node:path';
import type { Browser, CDPSession, Page } from 'playwright-core';
import { serveBuiltApp } from '../e2e/app.ts';
import build from '../e2e/build.ts';
import { fftMicroseconds } from './yardstick.ts';
import { seedFile, studentId } from './record/seed.ts';

/**
 * Five thousand attempts in the database: how long until each screen shows what it is for, and what an export costs.
 * `npm run bench:record -- [students] [attempts of each] [saved takes]`. The built app in a real browser; times are
 * wall time inside the page, from the change of address to the picture after the last of what is awaited (`ready`);
 * beside them the processor time of the page's main thread, which other work on the machine lengthens less. First: in
 * an app that was loaded half a second ago on another page and has not shown this one. Loaded there: from the start
 * of loading the app at that address, with everything in the browser's cache.
 */
const [students = 40, each = 125, sounds = 100] = process.argv.slice(2).map(Number);
const REPEATS = 5;
const cache = resolve(import.meta.dirname, '../../.cache/bench-record');

interface Screen {
  readonly name: string;
  readonly hash: string;
  /** Runs in the page: true once the screen shows what it is for. */
  readonly ready: string;
}
const rows = `document.querySelectorAll('main tbody tr').length`;
const text = (words: string) =>
  `document.querySelector('main')?.innerText.includes(${JSON.stringify(words)})`;

async function main(): Promise<void> {
  const seed = await seedFile({ students, attempts: each, sounds }, cache);
  const newest = seed.records.attempts.filter((one) => one.studentId === studentId(3)).at(-1)!;
  const screens: Screen[] = [
    { name: 'start', hash: '#/', ready: text('Begin') },
    { name: 'practice', hash: '#/practice', ready: text('of 100 such tests') },
    { name: 'progress', hash: '#/progress', ready: `document.querySelectorAll('main figure').length > 1` },
    { name: 'desk', hash: '#/teacher', ready: `${rows} === ${students}` },
    {
      name: 'desk with the week',
      hash: '#/teacher',
      ready: `${rows} === ${students} && !document.querySelector('main [aria-busy="true"]')`,
    },
    {
      name: 'student',
      hash: `#/teacher/${studentId(3)}`,
      ready: `${text('Earlier tests')} && document.querySelector('main svg, main .homework')`,
    },
    { name: 'attempt', hash: `#/teacher/${newest.studentId}/${newest.id}`, ready: text('Twobar’s mark') },
    {
      name: 'lesson sheet',
      hash: `#/teacher/${studentId(3)}/sheet`,
      ready: `(() => {
        const pages = [...document.querySelectorAll('main article')];
        return pages.length === 4 && pages.every((page) => !page.querySelector('[role=img]') || page.querySelector('.engraved svg'));
      })()`,
    },
    { name: 'blind marking', hash: '#/teacher/blind', ready: text('takes left') },
    { name: 'homework', hash: '#/homework', ready: text('No homework') },
    { name: 'data', hash: '#/data', ready: `${text('The browser')} && ${text('MB')}` },
  ];

  await build();
  const app = await serveBuiltApp({ pace: 1 });
  try {
    const { page, context } = await app.page();
    const settings = JSON.stringify({ checked: true, manner: 'strict', level: 3 });
    await page.addInitScript((kept) => localStorage.setItem('twobar.settings', kept), settings);
    await page.goto(`${app.url}#/data`);
    const restoring = performance.now();
    await page.locator('input[type=file]').setInputFiles(seed.path);
    await page
      .getByText(`Tests added: ${seed.records.attempts.length}. New students: ${students}.`)
      .waitFor({ timeout: 300_000 });
    console.log(
      `${seed.records.attempts.length} attempts of ${students} students, ${sounds} saved takes; restored in ${((performance.now() - restoring) / 1000).toFixed(1)} s`,
    );
    await page.goto(`${app.url}#/teacher/${studentId(3)}`);
    await page.getByRole('button', { name: /Run/ }).first().click();
    const cdp = await context.newCDPSession(page);

    // What is worked out once after each change of the record and then kept: the first look pays for it.
    for (const screen of screens.filter(({ name }) => ['desk with the week', 'practice'].includes(name))) {
      await page.evaluate(() => (location.hash = '#/about'));
      await page.waitForTimeout(300);
      const { wallMs } = await open(page, cdp, screen);
      console.log(`${screen.name}, all of it worked out anew: ${wallMs.toFixed(0)} ms`);
    }
    console.log(
      '\nscreen                first ms  again ms (median of 5)  main thread ms, first/again  loaded there ms',
    );
    for (const screen of screens) {
      await page.goto('about:blank');
      await page.goto(`${app.url}#/about`);
      await page.getByText('About').first().waitFor();
      await page.waitForTimeout(500);
      const first = await open(page, cdp, screen);
      const again = [];
      for (let i = 0; i < REPEATS; i++) {
        await page.evaluate(() => (location.hash = '#/about'));
        await page.waitForTimeout(150);
        again.push(await open(page, cdp, screen));
      }
      again.sort((a, b) => a.wallMs - b.wallMs);
      const middle = again[REPEATS >> 1]!;
      const loadedMs = await load(page, app.url, screen);
      console.log(
        `${screen.name.padEnd(20)} ${first.wallMs.toFixed(0).padStart(8)} ${middle.wallMs.toFixed(0).padStart(8)}                ${first.threadMs.toFixed(0).padStart(8)} ${middle.threadMs.toFixed(0).padStart(5)}             ${loadedMs.toFixed(0).padStart(8)}`,
      );
    }

    await page.goto('about:blank');
    await page.goto(`${app.url}#/data`);
    await page.getByText('The browser').first().waitFor();
    const pid = await rendererPid(app.browser, page);
    for (const run of ['1', '2', '3', 'with nothing packed beforehand']) {
      if (run.length > 1) await undoBlocks(page);
      const before = rssMb(pid);
      const spentBefore = await cpuSeconds(app.browser);
      let peak = before;
      const watch = setInterval(() => (peak = Math.max(peak, rssMb(pid))), 25);
      const from = performance.now();
      const download = page.waitForEvent('download', { timeout: 120_000 });
      await page.getByRole('button', { name: 'Save everything to one file' }).click();
      const path = await (await download).path();
      const seconds = (performance.now() - from) / 1000;
      clearInterval(watch);
      const spent = (await cpuSeconds(app.browser)) - spentBefore;
      const heap = await page.evaluate(
        () => (performance as unknown as { memory: { usedJSHeapSize: number } }).memory.usedJSHeapSize,
      );
      console.log(
        `${run === '1' ? '\n' : ''}export ${run}: ${seconds.toFixed(2)} s (${spent.toFixed(2)} s of processor time in all the browser’s processes), ${(readFileSync(path).length / 1e6).toFixed(1)} MB; the page’s process ${before.toFixed(0)} MB before, ${peak.toFixed(0)} MB at most (+${(peak - before).toFixed(0)}), its JS heap after ${(heap / 1e6).toFixed(0)} MB`,
      );
      await page.waitForTimeout(500);
    }
    console.log(
      `\n2048-point FFT ${fftMicroseconds().toFixed(1)} µs; load ${loadavg()
        .map((x) => x.toFixed(1))
        .join(' ')}`,
    );
  } finally {
    await app.close();
  }
}

/** Wall time to the picture that shows the screen, and the main thread's processor time meanwhile. */
async function open(
  page: Page,
  cdp: CDPSession,
  { hash, ready }: Screen,
): Promise<{ wallMs: number; threadMs: number }> {
  await cdp.send('Performance.enable', { timeDomain: 'threadTicks' });
  const spent = async () => {
    const { metrics } = await cdp.send('Performance.getMetrics');
    return metrics.find(({ name }) => name === 'TaskDuration')!.value * 1000;
  };
  const before = await spent();
  const wallMs = await page.evaluate(
    `new Promise((resolve) => {
      const from = performance.now();
      const look = () => {
        if (${ready}) requestAnimationFrame(() => resolve(performance.now() - from));
        else requestAnimationFrame(look);
      };
      location.hash = ${JSON.stringify(hash)};
      requestAnimationFrame(look);
    })`,
  );
  return { wallMs: Number(wallMs), threadMs: (await spent()) - before };
}

/** From the start of loading the app at this screen's address to the picture that shows it, wall ms. */
async function load(page: Page, url: string, { hash, ready }: Screen): Promise<number> {
  await page.goto('about:blank');
  await page.goto(url + hash, { waitUntil: 'commit' });
  return Number(
    await page.evaluate(
      `new Promise((resolve) => {
        const look = () => {
          if (${ready}) requestAnimationFrame(() => resolve(performance.now()));
          else requestAnimationFrame(look);
        };
        look();
      })`,
    ),
  );
}

/** Makes every attempt loose, as in a record that was never packed: the next export reads and packs each row. */
const undoBlocks = (page: Page): Promise<void> =>
  page.evaluate(
    () =>
      new Promise<void>((resolve, reject) => {
        const asked = indexedDB.open('twobar');
        asked.onerror = () => reject(asked.error);
        asked.onsuccess = () => {
          const db = asked.result;
          const work = db.transaction(['blocks', 'loose', 'attempts'], 'readwrite');
          work.objectStore('blocks').clear();
          const keys = work.objectStore('attempts').index('[studentId+order]').openKeyCursor();
          keys.onsuccess = () => {
            const at = keys.result;
            if (!at) return;
            const [studentId] = at.key as [string, number];
            work.objectStore('loose').put({ attemptId: at.primaryKey, studentId });
            at.continue();
          };
          work.oncomplete = () => (db.close(), resolve());
        };
      }),
  );

/** Processor time of all processes of the browser so far, s. */
async function cpuSeconds(browser: Browser): Promise<number> {
  const cdp = await browser.newBrowserCDPSession();
  const { processInfo } = await cdp.send('SystemInfo.getProcessInfo');
  await cdp.detach();
  return processInfo.reduce((sum, { cpuTime }) => sum + cpuTime, 0);
}

/** The process that the page runs in: the one whose JS heap it is. */
async function rendererPid(browser: Browser, page: Page): Promise<number> {
  const cdp = await browser.newBrowserCDPSession();
  const list = async () =>
    (await cdp.send('SystemInfo.getProcessInfo')).processInfo.filter(({ type }) => type === 'renderer');
  const before = new Map((await list()).map(({ id, cpuTime }) => [id, cpuTime]));
  await page.evaluate(() => {
    const until = performance.now() + 400;
    while (performance.now() < until);
  });
  const busiest = (await list())
    .map(({ id, cpuTime }) => ({ id, spent: cpuTime - (before.get(id) ?? 0) }))
    .sort((a, b) => b.spent - a.spent)[0]!;
  return busiest.id;
}

/** Resident memory of a process, MB (Linux). */
function rssMb(pid: number): number {
  const pages = Number(readFileSync(`/proc/${pid}/statm`, 'utf8').split(' ')[1]);
  return (pages * 4096) / 1e6;
}

await main();
