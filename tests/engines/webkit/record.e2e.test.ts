import { writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { By } from 'selenium-webdriver';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { unpackBackup } from '../../../src/store/backup/file.ts';
import type { Attempt } from '../../../src/store/index.ts';
import { DEMO, DEMO_RESTORED, DEMO_TESTS, demoFile, rowsOf, untilRows } from '../../e2e/pages.ts';
import { hasWebKit, serveInWebKit, type WebKitApp } from './app.ts';

describe.skipIf(!hasWebKit)('the record, paper and no network in WebKitGTK', () => {
  let app: WebKitApp;
  const restore = async (path: string): Promise<void> => {
    // What was restored before is told no longer.
    await app.open('#/about');
    await app.says('About Twobar', 'main h1');
    await app.open('#/data');
    await app.says('Data', 'main h1');
    await app.driver.findElement(By.css('input[type=file]')).sendKeys(path);
    await app.says(DEMO_RESTORED);
  };
  const ids = async (): Promise<string[]> =>
    (await rowsOf<Attempt>(app.page, 'attempts')).map(({ id }) => id).sort();
  beforeAll(async () => {
    app = await serveInWebKit(-Infinity);
    await app.remember({ manner: 'strict', level: 1 });
    await restore(await demoFile());
  });
  afterAll(() => app?.close());

  it('makes a backup that brings all of it back after everything was deleted', async () => {
    const before = await ids();
    await app.click('Save everything to one file');
    await app.page.waitForFunction(() => '__saved' in window, null);
    const bytes = await app.page.evaluate(async () => [
      ...new Uint8Array(await (window as unknown as { __saved: Blob }).__saved.arrayBuffer()),
    ]);
    const file = Uint8Array.from(bytes);
    expect((await unpackBackup(file)).records.attempts).toHaveLength(DEMO_TESTS);
    const path = join(tmpdir(), `twobar-webkit-${process.pid}.twobar`);
    writeFileSync(path, file);
    await app.click('Delete everything here');
    await app.click('Delete for good');
    await untilRows(app.page, 'attempts', 0);
    await restore(path);
    expect(await ids()).toEqual(before);
  });

  it('engraves the music of the lesson sheet in the music’s own face', async () => {
    await app.open(`#/teacher/${DEMO}/sheet`);
    await app.there('article .engraved svg .vf-notehead');
    const drawn = await app.page.evaluate(() => {
      const svg = document.querySelector('article .engraved svg')!;
      const heads = [...svg.querySelectorAll('.vf-notehead')].map((at) => at.getBoundingClientRect());
      const box = svg.getBoundingClientRect();
      return {
        bravura: [...document.fonts].some(
          ({ family, status }) => /Bravura/.test(family) && status === 'loaded',
        ),
        heads: heads.length,
        // Each is as large as a head is, and none stands outside of its picture.
        astray: heads.filter(
          ({ left, right, top, bottom, width, height }) =>
            width < 4 ||
            height < 4 ||
            left < box.left ||
            right > box.right ||
            top < box.top - 40 ||
            bottom > box.bottom + 40,
        ).length,
      };
    });
    expect(drawn).toEqual({ bravura: true, heads: expect.any(Number) as number, astray: 0 });
    expect(drawn.heads).toBeGreaterThan(4);
  });

  // Before the rules are turned about and the page is loaded anew, which breaks off what is fetched ahead.
  it('breaks no rule of its own policy and throws nothing along the way', async () => {
    expect(await app.problems()).toEqual([]);
  });

  it('leaves the music and the names alone under the rules for paper', async () => {
    // WebKitGTK's driver prints nothing: the rules for paper are put in force on the screen instead.
    const seen = await app.page.evaluate(() => {
      for (const sheet of document.styleSheets)
        for (const rule of sheet.cssRules)
          if (rule instanceof CSSMediaRule && rule.media.mediaText === 'print') rule.media.mediaText = 'all';
      const visible = (css: string): number =>
        [...document.querySelectorAll(css)].filter((at) => at.checkVisibility()).length;
      return {
        navigation: visible('nav a, header select'),
        buttons: visible('main button'),
        music: visible('article .engraved svg'),
        name: document.querySelector('main')!.innerText.includes('A. B.'),
      };
    });
    expect(seen).toEqual({ navigation: 0, buttons: 0, music: expect.any(Number) as number, name: true });
    expect(seen.music).toBeGreaterThan(1);
    await app.driver.navigate().refresh();
  });

  it('opens again without a network after the first load', async () => {
    await app.open('#/about');
    await app.says('About Twobar', 'main h1');
    await app.page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    await app.driver.navigate().refresh();
    await app.says('About Twobar', 'main h1');
    await app.offline();
    await expect(fetch(app.url)).rejects.toThrow();
    await app.driver.navigate().refresh();
    await app.says('About Twobar', 'main h1');
    await app.open('#/licences');
    await app.says('Literata', 'main');
  });
});
