import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { By } from 'selenium-webdriver';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Attempt } from '../../../src/store/index.ts';
import { DEMO, DEMO_RESTORED, demoFile, rowsOf } from '../../e2e/pages.ts';
import { badTexts } from '../../tour/overlaps.ts';
import { hasWebKit, serveInWebKit, type WebKitApp } from './app.ts';

/** Every address of the app and what must be drawn on it. */
const PAGES: readonly (readonly [hash: string, there: string])[] = [
  ['', 'main h1'],
  ['#/check', 'main h1'],
  ['#/practice', 'main section'],
  ['#/read', 'main h1'],
  [`#/progress/${DEMO}`, 'main h2'],
  ['#/teacher', 'main tbody tr'],
  [`#/teacher/${DEMO}`, 'main .homework'],
  [`#/teacher/${DEMO}/sheet`, 'main .engraved svg'],
  [`#/teacher/${DEMO}/report`, 'main article, main h2'],
  ['#/teacher/blind', 'main .engraved svg'],
  ['#/who', 'main h1'],
  ['#/phrases', 'main h1'],
  ['#/phrases/play', 'main h1'],
  ['#/phrases/levels', 'main h1'],
  ['#/homework', 'main h1'],
  ['#/about', 'main h1'],
  ['#/licences', 'main h2'],
  ['#/nowhere', 'main h1'],
  ['#/start/rhythm/3/7', 'main h1'],
  ['#/settings', 'main h1'],
  ['#/scales', 'main h1'],
  ['#/chords', 'main h1'],
  ['#/improvise', 'main h1'],
  ['#/piece', 'main h1'],
  ['#/questions', 'main h1'],
  ['#/sitting', 'main h1'],
  ['#/plan', 'main h1'],
  ['#/studio', 'main h1'],
  ['#/data', 'main h1'],
];

describe.skipIf(!hasWebKit)('every page in WebKitGTK', () => {
  let app: WebKitApp;
  beforeAll(async () => {
    app = await serveInWebKit(-Infinity);
    await app.remember({ manner: 'strict', level: 1 });
    await app.open('#/data');
    await app.there('main h1');
    await app.driver.findElement(By.css('input[type=file]')).sendKeys(await demoFile());
    await app.says(DEMO_RESTORED);
  });
  afterAll(() => app?.close());

  it('is drawn without an error or a breach of the policy, no text over another and none cut off', async () => {
    const found: string[] = [];
    const [attempt] = (await rowsOf<Attempt>(app.page, 'attempts')).filter(
      ({ studentId }) => studentId === DEMO,
    );
    for (const [hash, there] of [
      ...PAGES,
      [`#/teacher/${DEMO}/${attempt!.id}`, 'main .engraved svg'] as const,
    ]) {
      await app.open(hash);
      await app.there(there);
      found.push(...(await badTexts(app.page)).map((text) => `${hash}: ${text}`));
      const over = await app.page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      if (over > 0) found.push(`${hash}: ${over} px wider than the window`);
      const shots = process.env['TWOBAR_SHOTS'];
      if (shots) {
        mkdirSync(shots, { recursive: true });
        writeFileSync(
          join(shots, `webkit-${hash.replace(/\W+/g, '-')}.png`),
          await app.driver.takeScreenshot(),
          'base64',
        );
      }
    }
    expect([...found, ...(await app.problems())]).toEqual([]);
  });
});
