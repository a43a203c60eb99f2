import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { testToMusicXml } from '../../src/exchange/index.ts';
import { makeTest, standardTuning } from '../../src/tests-engine/index.ts';
import { sampleBackup, packSample } from '../store/support/backup.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { OUT } from './build.ts';
import { beginLinked, heading, PATIENCE, remember, rowsOf } from './pages.ts';

const tune = makeTest({
  ...{ kind: 'melody', level: 1, instrument: 'guitar', seed: 3 },
  tuning: standardTuning('guitar').strings,
} as never);

/** Chromium's queue of files that the installed app was opened with, as far as the app uses it. */
const withLaunches = (page: Page): Promise<unknown> =>
  page.addInitScript(() => {
    let consumer: ((given: object) => void) | null = null;
    const waiting: object[] = [];
    Object.defineProperty(window, 'launchQueue', {
      value: {
        setConsumer(next: (given: object) => void) {
          consumer = next;
          waiting.splice(0).forEach(next);
        },
      },
    });
    Object.assign(window, {
      __open(name: string, bytes: number[]) {
        const file = new File([new Uint8Array(bytes)], name);
        const given = { files: [{ getFile: () => Promise.resolve(file) }] };
        if (consumer) consumer(given);
        else waiting.push(given);
      },
    });
  });
const openWith = (page: Page, name: string, bytes: Uint8Array): Promise<void> =>
  page.evaluate(
    ([called, all]) =>
      (window as unknown as { __open(name: string, bytes: number[]): void }).__open(
        called as string,
        all as number[],
      ),
    [name, [...bytes]] as const,
  );

describe('files that are opened with the installed app, or shared with it', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(() => app.close());

  it('go to their pages: music to own phrases, a backup only after a question, and what nobody opens is told', async () => {
    const { page, problems } = await app.page();
    await withLaunches(page);
    await remember(page, {});
    await page.goto(app.url);
    await openWith(page, 'A tune.musicxml', new TextEncoder().encode(testToMusicXml(tune, 'A tune')));
    await page.waitForURL(/#\/phrases\/new$/, PATIENCE);
    await page.locator('.vf-notehead').first().waitFor(PATIENCE);

    await openWith(page, 'photo.jpg', new Uint8Array([1, 2, 3]));
    await page.getByRole('alert').getByText('“photo.jpg” is no file that Twobar opens.').waitFor(PATIENCE);

    const backup = await packSample(sampleBackup());
    await openWith(page, 'old.twobar', backup);
    await page.getByText('“old.twobar” is a backup.').waitFor(PATIENCE);
    expect(await rowsOf(page, 'attempts')).toEqual([]);
    await page.getByRole('button', { name: 'Add them' }).click();
    await page.getByText(/^Tests added: \d+\./).waitFor(PATIENCE);
    expect((await rowsOf(page, 'attempts')).length).toBeGreaterThan(0);
    expect(problems).toEqual([]);
  });

  it('wait while a test is being played', async () => {
    const { page, problems } = await app.page();
    await withLaunches(page);
    await remember(page, {});
    await beginLinked(page, app, 'melody/1/5');
    await openWith(page, 'photo.jpg', new Uint8Array([1, 2, 3]));
    await page.waitForTimeout(500);
    expect(page.url()).not.toContain('given');
    await page.keyboard.press('PageUp');
    await page.getByText('“photo.jpg” is no file that Twobar opens.').waitFor(PATIENCE);
    expect(problems).toEqual([]);
  });

  it('are taken in from other apps by the service worker, with no request to the server; so is a link in a text', async () => {
    const { page, problems } = await app.page({ serviceWorkers: 'allow' });
    await remember(page, {});
    await page.goto(app.url);
    await page.evaluate(() => navigator.serviceWorker.ready);
    // Its first page is not the worker's yet.
    await page.reload();
    const share = (fields: Record<string, string>, name = '', content = ''): Promise<unknown> =>
      page.evaluate(
        async ([given, called, inside]) => {
          const form = new FormData();
          for (const [key, value] of Object.entries(given)) form.set(key, value);
          if (called !== '') form.set('file', new File([inside], called));
          await fetch('./share', { method: 'POST', body: form });
        },
        [fields, name, content] as const,
      );
    const answers: boolean[] = [];
    page.on('response', (answer) => {
      if (answer.url().includes('/share')) answers.push(answer.fromServiceWorker());
    });
    await share({}, 'Übung 1.musicxml', testToMusicXml(tune, 'A tune'));
    await page.goto(`${app.url}#/given`);
    await page.waitForURL(/#\/phrases\/new$/, PATIENCE);
    expect(answers).toEqual([true]);

    await share({ title: 'a song', text: 'nothing of ours' });
    await page.goto(`${app.url}#/given`);
    await page.getByText('There is no link of Twobar in what was shared.').waitFor(PATIENCE);
    await page.goto(`${app.url}#/`);
    // What was taken is not there a second time.
    await page.goto(`${app.url}#/given`);
    await page.getByText('Nothing has been shared.').waitFor(PATIENCE);
    await page.goto(`${app.url}#/`);
    await share({ text: 'Homework: https://somewhere.test/#homework=AAAA' });
    await page.goto(`${app.url}#/given`);
    await page.waitForURL(/#homework=AAAA$/, PATIENCE);
    await heading(page, 'Homework');
    expect(problems).toEqual([]);
  });

  it('are named in the manifest with the place that takes them, within the app', () => {
    const file = join(OUT, 'manifest.webmanifest');
    expect(existsSync(file)).toBe(true);
    const { scope, file_handlers, share_target } = JSON.parse(readFileSync(file, 'utf8'));
    const within = (place: string) => new URL(place, new URL(scope, 'https://a.test/b/')).href;
    expect(within(file_handlers[0].action)).toBe('https://a.test/b/');
    expect(Object.values(file_handlers[0].accept).flat()).toEqual(
      expect.arrayContaining(['.twobar', '.musicxml', '.mid']),
    );
    expect(within(share_target.action)).toBe('https://a.test/b/share');
    expect(share_target).toMatchObject({ method: 'POST', enctype: 'multipart/form-data' });
    expect(share_target.params.files[0].name).toBe('file');
    expect(readFileSync(join(OUT, 'sw.js'), 'utf8')).toContain('receive.js');
  });
});
