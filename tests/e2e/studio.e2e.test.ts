import type { FastifyInstance } from 'fastify';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeServer } from '../../studio/app.ts';
import { openDatabase } from '../../studio/database/open.ts';
import type { Database } from '../../studio/database/sql.ts';
import { newStudio } from '../../studio/setup.ts';
import { t } from '../../src/ui/messages.ts';
import type { Attempt, Homework } from '../../src/store/index.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { OUT } from './build.ts';
import { DEMO, DEMO_TESTS, PATIENCE, remember, restored, rowsOf } from './pages.ts';

/** Two browsers and the real server: PGlite in memory, or the empty database of `TWOBAR_POSTGRES`. */
describe('a studio in the built app', () => {
  let served: ServedApp;
  let app: ServedApp;
  let server: FastifyInstance;
  let db: Database;
  const failures: unknown[] = [];
  beforeAll(async () => {
    served = await serveBuiltApp();
    db = await openDatabase(process.env['TWOBAR_POSTGRES']);
    server = await makeServer({ db, dist: OUT, onFailure: (error) => failures.push(error) });
    app = { ...served, url: `${await server.listen({ host: '127.0.0.1', port: 0 })}/` };
  }, 180_000);
  afterAll(async () => {
    await served.close();
    await server.close();
    await db.close();
    expect(failures).toEqual([]);
  });

  /** A link for the student's phone, made at the desk. */
  async function invited(desk: Page): Promise<string> {
    await desk.getByLabel('Whose').selectOption(DEMO, PATIENCE);
    await desk.getByRole('button', { name: 'Make a link' }).click();
    return (await desk.locator('a[href*="/studio/join/"]').getAttribute('href', PATIENCE))!;
  }

  it('asks nobody anything where none is set up', async () => {
    const { page, context, problems } = await restored(app);
    const asked: string[] = [];
    page.on('request', (request) => asked.push(request.url()));
    for (const place of ['', `#/teacher/${DEMO}`, '#/data', '#/studio']) {
      await page.goto(`${app.url}${place}`);
      await page.locator('h1').first().waitFor(PATIENCE);
    }
    await page.waitForTimeout(2500);
    expect(asked.filter((url) => url.includes('/studio/v1'))).toEqual([]);
    expect(asked.filter((url) => !url.startsWith(app.url) && !/^(data|blob):/.test(url))).toEqual([]);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('carries the record and new homework of a student to their phone, without anybody sending anything', async () => {
    const desk = await restored(app);
    await remember(desk.page, { manner: 'relaxed' });
    await desk.page.goto(`${app.url}#/studio/first/${await newStudio(db, Date.now())}`);
    await desk.page.getByLabel('What this device is called').fill('Front room');
    await desk.page.getByRole('button', { name: 'Join the studio' }).click();
    await desk.page.getByText('Desk, this device').waitFor(PATIENCE);
    await desk.page.getByText('all sent').first().waitFor(PATIENCE);
    const link = await invited(desk.page);

    const phone = await app.page({ viewport: { width: 390, height: 844 } });
    await remember(phone.page, { manner: 'relaxed' });
    await phone.page.goto(link.slice(0, -8));
    await phone.page.getByText(t('studio.join.broken')).waitFor(PATIENCE);
    await phone.page.goto(link);
    await phone.page.getByRole('button', { name: 'Join the studio' }).click();
    await phone.page.getByText('all sent').first().waitFor(PATIENCE);
    expect((await rowsOf<Attempt>(phone.page, 'attempts')).length).toBe(DEMO_TESTS);
    expect(await rowsOf(phone.page, 'lessonNotes')).toEqual([]);

    await desk.page.goto(`${app.url}#/teacher/${DEMO}`);
    await desk.page.getByLabel('Melodies').selectOption('1');
    await desk.page.getByLabel('Rhythms').selectOption('0');
    await desk.page.getByLabel(t('homework.text')).fill('Sing it first.');
    await desk.page.getByRole('button', { name: 'Make a link' }).click();
    await desk.page.getByText('One test, set').first().waitFor(PATIENCE);
    const set = (await rowsOf<Homework>(desk.page, 'homework')).find(
      ({ text }) => text === 'Sing it first.',
    )!;
    // Nobody does anything from here on but look.
    const url = `${app.url}#/homework/${set.id}`;
    await expect
      .poll(async () => (await rowsOf<Homework>(phone.page, 'homework')).some(({ id }) => id === set.id), {
        timeout: 60_000,
      })
      .toBe(true);
    await phone.page.goto(url);
    await phone.page.getByText('Sing it first.').waitFor(PATIENCE);

    // Another link opens nothing in a studio; once left, a new one lets the phone in again.
    await desk.page.goto(`${app.url}#/studio`);
    await phone.page.goto(await invited(desk.page));
    await phone.page.getByText(t('studio.join.again')).waitFor(PATIENCE);
    await phone.page.getByRole('button', { name: t('studio.leave') }).click();
    await phone.page.getByText(t('studio.leave.sure')).waitFor(PATIENCE);
    await phone.page.getByRole('button', { name: t('studio.leave.yes') }).click();
    await phone.page.getByRole('button', { name: t('studio.join') }).click();
    await phone.page.getByText('all sent').first().waitFor(PATIENCE);
    expect([...desk.problems, ...phone.problems]).toEqual([]);
  });
});
