import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BrowserContext, Page } from 'playwright-core';
import { chromium } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import { unpackBackup } from '../../src/store/backup/file.ts';
import type { Attempt, Draft } from '../../src/store/index.ts';
import { BROWSER_FLAGS, wholeBrowserPath } from '../support/browser.ts';
import { smallDisk } from '../support/small-disk.ts';
import { addSimulatedPlayer, arm, passing } from '../support/simulated-player.ts';
import { makeTest } from '../../src/tests-engine/index.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import {
  beginLinked,
  DEMO_TESTS,
  heading,
  onward,
  PATIENCE,
  remember,
  restoreDemo,
  restored,
  rowsOf,
  sounding,
  step,
  straightToTheTake,
  untilRows,
} from './pages.ts';
import { playedTake } from './takes.ts';

const result = (page: Page) => page.getByRole('button', { name: 'Next test' }).waitFor(PATIENCE);
/** The tab dies as by a fault of the browser: no event, no farewell. */
async function crash(context: BrowserContext, page: Page): Promise<void> {
  const died = page.waitForEvent('crash', PATIENCE);
  const cdp = await context.newCDPSession(page);
  void cdp.send('Page.crash').catch(() => undefined);
  await died;
}
const MOMENTS: readonly {
  readonly at: string;
  readonly lost: boolean;
  readonly reach: (page: Page, app: ServedApp) => Promise<unknown>;
}[] = [
  {
    at: 'the choice of a test',
    lost: false,
    reach: async (page, app) => {
      await page.goto(`${app.url}#/start/melody/1/1`);
      await heading(page, 'What would you like');
    },
  },
  {
    at: 'its sound being made',
    lost: false,
    reach: async (page, app) => {
      await page.goto(`${app.url}#/start/melody/1/2`);
      await heading(page, 'What would you like');
      await onward(page);
    },
  },
  {
    at: 'the hearing',
    lost: false,
    reach: (page, app) => beginLinked(page, app, 'melody/1/3'),
  },
  {
    at: 'the practice window',
    lost: false,
    reach: async (page, app) => {
      await beginLinked(page, app, 'melody/1/4');
      await onward(page);
      await step(page, 'Find it');
    },
  },
  {
    at: 'the count-in',
    lost: true,
    reach: async (page, app) => {
      await beginLinked(page, app, 'melody/2/5');
      await onward(page);
      await step(page, 'Find it');
      await onward(page);
      await step(page, 'Count');
      await untilRows(page, 'drafts', 1);
    },
  },
  {
    at: 'the first note of the take',
    lost: true,
    reach: async (page, app) => {
      await beginLinked(page, app, 'melody/3/6');
      await straightToTheTake(page);
    },
  },
  {
    at: 'the middle of the take',
    lost: true,
    reach: async (page, app) => {
      await beginLinked(page, app, 'melody/4/7');
      await straightToTheTake(page);
      await passing(page, 2.5);
    },
  },
  {
    at: 'the take being heard through',
    lost: true,
    reach: async (page, app) => {
      await beginLinked(page, app, 'melody/1/8');
      await straightToTheTake(page);
      await heading(page, 'Listening');
    },
  },
  {
    at: 'the question of a rhythm',
    lost: true,
    reach: async (page, app) => {
      await beginLinked(page, app, 'rhythm/1/9');
      await straightToTheTake(page);
      await heading(page, 'Which rhythm');
    },
  },
  {
    at: 'the result',
    lost: false,
    reach: async (page, app) => {
      await beginLinked(page, app, 'melody/1/10');
      await straightToTheTake(page);
      await result(page);
    },
  },
];

/** A browser that keeps its profile in this folder, with one page ready for a test. */
async function launched(profile: string, settings: Parameters<typeof remember>[1]) {
  const context = await chromium.launchPersistentContext(profile, {
    executablePath: wholeBrowserPath(),
    args: BROWSER_FLAGS,
    headless: true,
  });
  const page = await context.newPage();
  // At true speed: a disk is filled while a take runs.
  await addSimulatedPlayer(page, 1);
  await remember(page, settings);
  return { page, context };
}

/** A profile whose user lets this site keep what it stores: what the browser itself writes down on "yes". */
function mayKeep(profile: string, url: string): void {
  const durable_storage = { [`${new URL(url).origin},*`]: { setting: 1 } };
  mkdirSync(join(profile, 'Default'));
  writeFileSync(
    join(profile, 'Default', 'Preferences'),
    JSON.stringify({ profile: { content_settings: { exceptions: { durable_storage } } } }),
  );
}

describe('the record survives', () => {
  const disk = smallDisk(160);
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(async () => {
    await app.close();
    disk?.remove();
  });

  it('a crash at ten moments of a test: only a take in progress is lost, and is told once', async () => {
    const { page: first, context } = await restored(app);
    await first.close();
    // Each page first tells what the one before it left behind, then comes to its own end.
    let before: (typeof MOMENTS)[number] | null = null;
    const opened = async () => {
      const page = await context.newPage();
      await addSimulatedPlayer(page);
      await remember(page, { manner: 'relaxed', level: 1 });
      await page.goto(app.url);
      await heading(page, 'What would you like');
      const kept = DEMO_TESTS + (before?.at === 'the result' ? 1 : 0);
      expect(await rowsOf(page, 'attempts'), before?.at ?? 'nothing').toHaveLength(kept);
      if (before?.lost) {
        await page.getByText('A take was in progress').waitFor(PATIENCE);
        await page.getByRole('button', { name: 'Understood' }).click();
        await untilRows(page, 'drafts', 0);
      } else expect(await rowsOf<Draft>(page, 'drafts'), before?.at ?? 'nothing').toEqual([]);
      return page;
    };
    for (const moment of MOMENTS) {
      const page = await opened();
      await moment.reach(page, app);
      await crash(context, page);
      await page.close();
      before = moment;
    }
    await opened();
    await context.close();
  }, 300_000);

  it('the whole browser killed in the middle of writing an attempt, and just after it', async () => {
    const profile = mkdtempSync(join(tmpdir(), 'twobar-profile-'));
    const launch = async () => {
      const { page, context } = await launched(profile, { manner: 'relaxed', level: 1 });
      const cdp = await context.browser()!.newBrowserCDPSession();
      const { processInfo } = await cdp.send('SystemInfo.getProcessInfo');
      const { id } = processInfo.find(({ type }) => type === 'browser')!;
      const kill = async () => {
        const closed = new Promise((resolve) => context.once('close', resolve));
        process.kill(id, 'SIGKILL');
        await closed;
      };
      return { page, kill, close: () => context.close() };
    };
    const started = await launch();
    await restoreDemo(started.page, app);
    // From the first write of an attempt on, the page does nothing more: its transaction stays open for ever.
    await started.page.evaluate(() => {
      const add = IDBObjectStore.prototype.add;
      IDBObjectStore.prototype.add = function (this: IDBObjectStore, ...all: Parameters<typeof add>) {
        const request = add.apply(this, all);
        if (this.name === 'attempts') {
          // eslint-disable-next-line no-console -- the only word that gets out of a page that does nothing more
          console.log('writing');
          for (;;);
        }
        return request;
      };
    });
    const writing = started.page.waitForEvent('console', {
      predicate: (message) => message.text() === 'writing',
      ...PATIENCE,
    });
    await started.page.evaluate(() => (location.hash = '#/start/melody/1/21'));
    await heading(started.page, 'What would you like');
    await onward(started.page);
    await sounding(started.page);
    await straightToTheTake(started.page);
    await writing;
    await started.kill();

    const second = await launch();
    await second.page.goto(app.url);
    await second.page.getByText('A take was in progress').waitFor(PATIENCE);
    expect(await rowsOf(second.page, 'attempts')).toHaveLength(DEMO_TESTS);
    expect(await rowsOf(second.page, 'digests')).toHaveLength(DEMO_TESTS);
    await second.page.getByRole('button', { name: 'Understood' }).click();
    await beginLinked(second.page, app, 'melody/1/22');
    await straightToTheTake(second.page);
    await result(second.page);
    await second.kill();

    const third = await launch();
    await third.page.goto(app.url);
    await heading(third.page, 'What would you like');
    expect(await rowsOf(third.page, 'attempts')).toHaveLength(DEMO_TESTS + 1);
    expect(await rowsOf(third.page, 'digests')).toHaveLength(DEMO_TESTS + 1);
    expect(await rowsOf(third.page, 'drafts')).toEqual([]);
    await third.close();
    rmSync(profile, { recursive: true, force: true });
  });

  // The disk is really full: the browser gets no byte onto it, and closes the database on that. It then makes room by
  // deleting what sites keep that have no permission to (Chromium's `QuotaManagerImpl::OnFullDiskError` begins to evict
  // at once), so this record has it, as that of the installed app has.
  it.skipIf(!disk)(
    'a full disk: the result stays, says that it is not kept, offers a backup, and is written once there is room',
    async () => {
      const profile = mkdtempSync(join(disk!.path, 'profile-'));
      mayKeep(profile, app.url);
      const { page, context } = await launched(profile, { manner: 'relaxed', level: 1 });
      onTestFinished(async () => {
        disk!.makeRoom();
        await context.close();
        rmSync(profile, { recursive: true, force: true });
      });
      const problems: string[] = [];
      page.on('pageerror', (error) => problems.push(error.message));
      await restoreDemo(page, app);
      expect(await page.evaluate(() => navigator.storage.persisted())).toBe(true);
      const test = makeTest({ kind: 'melody', level: 1, seed: 31, instrument: 'guitar' });
      await arm(page, await playedTake(test));
      await beginLinked(page, app, 'melody/1/31');
      await straightToTheTake(page);
      await untilRows(page, 'drafts', 1);
      disk!.fill();
      await result(page);
      await page.getByRole('alert').getByText('This take is not in the record yet.').waitFor(PATIENCE);
      // Seen without scrolling.
      const notice = (await page.getByText('This take is not in the record yet.').boundingBox())!;
      expect(notice.y + notice.height).toBeLessThan(page.viewportSize()!.height);
      const shown = Number(await page.locator('p.number').textContent());
      expect(shown).toBeGreaterThan(50);
      await page.getByRole('button', { name: 'Try to save again' }).click();
      await page.getByText('on the disk, which may be full').waitFor(PATIENCE);
      disk!.makeRoom();
      // There is room, but the browser grants no more of it: a backup can be made now, without a byte written here.
      // (The stand-in throws what browsers throw; `Storage.overrideQuotaForOrigin` of Chromium 156 changes nothing.)
      await page.evaluate(() => {
        const put = IDBObjectStore.prototype.put;
        const add = IDBObjectStore.prototype.add;
        const full = () => {
          throw new DOMException('no more room', 'QuotaExceededError');
        };
        Object.assign(IDBObjectStore.prototype, { put: full, add: full });
        Object.assign(window, { roomAgain: () => Object.assign(IDBObjectStore.prototype, { put, add }) });
      });
      const download = page.waitForEvent('download', PATIENCE);
      await page.getByRole('button', { name: 'Save everything to one file' }).click();
      const file = new Uint8Array(readFileSync(await (await download).path()));
      expect((await unpackBackup(file)).records.attempts).toHaveLength(DEMO_TESTS);
      await page.getByRole('button', { name: 'Try to save again' }).click();
      await page.getByText('share of it, is full').waitFor(PATIENCE);
      await page.getByText('This take is not in the record yet.').waitFor(PATIENCE);
      expect(await rowsOf(page, 'attempts')).toHaveLength(DEMO_TESTS);
      await page.evaluate(() => (window as unknown as { roomAgain(): void }).roomAgain());
      await page.getByRole('button', { name: 'Try to save again' }).click();
      await page.getByText('Kept under “A. B.”').waitFor(PATIENCE);
      const attempts = await rowsOf<Attempt>(page, 'attempts');
      expect(attempts).toHaveLength(DEMO_TESTS + 1);
      expect(
        attempts.filter(({ test: { seed } }) => seed === 31).map(({ mark }) => Math.round(mark.mark!)),
      ).toEqual([shown]);
      expect(await rowsOf(page, 'drafts')).toEqual([]);
      expect(problems).toEqual([]);
    },
  );

  // What Chromium says while the disk is full, by a stand-in: a small disk that is really full it soon empties, of all records.
  it('a record that cannot be opened is tried again by whatever asks next', async () => {
    const { page, problems } = await restored(app);
    await page.addInitScript(() => {
      const open = IDBFactory.prototype.open;
      IDBFactory.prototype.open = () => {
        throw new DOMException('Internal error opening backing store for indexedDB.open.', 'UnknownError');
      };
      Object.assign(window, { roomAgain: () => (IDBFactory.prototype.open = open) });
    });
    await page.reload();
    await page.getByText('on the disk, which may be full').waitFor(PATIENCE);
    await page.evaluate(() => (window as unknown as { roomAgain(): void }).roomAgain());
    // A page that joined an attempt still under way shows what that one found; the next page asks anew.
    await expect
      .poll(async () => {
        await page.evaluate(() => (location.hash = '#/data'));
        await heading(page, 'Data');
        await page.evaluate(() => (location.hash = '#/teacher'));
        await heading(page, 'Teacher');
        const desk = page.getByRole('link', { name: 'A. B.' });
        // Long enough for the desk on a busy machine: who leaves earlier begins anew.
        await desk.waitFor({ timeout: 20_000 }).catch(() => undefined);
        return desk.count();
      }, PATIENCE)
      .toBeGreaterThan(0);
    expect(problems).toEqual([]);
  });
});
