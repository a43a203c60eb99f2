import { performance } from 'node:perf_hooks';
import { chromium } from 'playwright-core';
import { unpackBackup } from '../../../src/store/backup/file.ts';
import { writeInvitation } from '../../../src/studio/index.ts';
import { packSample, sampleBackup } from '../../store/support/backup.ts';
import { Device } from '../../studio/support/devices.ts';
import { BROWSER_FLAGS, browserPath } from '../../support/browser.ts';

export interface CaughtUp {
  readonly rows: number;
  readonly seconds: number;
  /** As they came over the wire, compressed. */
  readonly bytes: number;
  readonly requests: number;
}

/**
 * A desk that was away for a year, in a real browser with the built app: it joins with an empty record and fetches,
 * opens, checks and writes everything.
 * @param link to the first machine of a new studio
 */
export async function catchUp(url: string, link: string, rows: number): Promise<CaughtUp> {
  const away = (path: string, init: RequestInit): Promise<Response> => fetch(url + path, init);
  const desk = new Device(away);
  await desk.founded(link);
  const { records } = await unpackBackup(await packSample(sampleBackup(rows)));
  await desk.restore(records);
  await desk.sync();
  const there = (await desk.db.attempts.count()) > 0 ? await desk.db.attempts.count() : 0;
  const invitation = writeInvitation(await desk.invite(null));
  const browser = await chromium.launch({
    executablePath: browserPath(),
    args: BROWSER_FLAGS,
    headless: true,
  });
  try {
    const context = await browser.newContext({ serviceWorkers: 'block' });
    const page = await context.newPage();
    let [bytes, requests] = [0, 0];
    page.on('requestfinished', (request) => {
      if (!request.url().includes('/studio/v1/pull')) return;
      requests += 1;
      void request.sizes().then(({ responseBodySize }) => (bytes += responseBodySize));
    });
    await page.goto(`${url}/#/studio/join/${invitation}`);
    await page.getByRole('button', { name: 'Join the studio' }).click();
    const begun = performance.now();
    for (;;) {
      const count = await page.evaluate(
        () =>
          new Promise<number>((resolve, reject) => {
            const asked = indexedDB.open('twobar');
            asked.onerror = () => reject(asked.error);
            asked.onsuccess = () => {
              const counted = asked.result.transaction('attempts').objectStore('attempts').count();
              counted.onsuccess = () => (asked.result.close(), resolve(counted.result));
            };
          }),
      );
      if (count >= there) break;
      // Asked in one go after the other it would take a third of a core itself.
      await page.waitForTimeout(50);
      if (performance.now() - begun > 300_000) throw new Error(`only ${count} of ${there} came`);
    }
    const seconds = (performance.now() - begun) / 1000;
    await page.getByText('all sent').first().waitFor();
    return { rows: there, seconds, bytes, requests };
  } finally {
    await browser.close();
  }
}
