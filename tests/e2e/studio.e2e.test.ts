import { setTimeout as pause } from 'node:timers/promises';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeServer } from '../../studio/app.ts';
import { openDatabase } from '../../studio/database/open.ts';
import { newStudio } from '../../studio/setup.ts';
import { readInvitation, writeInvitation } from '../../src/studio/index.ts';
import { earTest } from '../../src/tests-engine/index.ts';
import { t } from '../../src/ui/messages.ts';
import type { Attempt, Homework, LessonNote, Override, SavedAudio } from '../../src/store/index.ts';
import { makeRandom } from '../../audio-fixtures/random.ts';
import { newDatabase } from '../support/postgres.ts';
import { arm } from '../support/simulated-player.ts';
import { Device } from '../studio/support/devices.ts';
import { ENGINES, engineName } from '../studio/support/server.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { OUT } from './build.ts';
import {
  DEMO,
  DEMO_TESTS,
  heading,
  look,
  PATIENCE,
  remember,
  restored,
  rowsOf,
  sounding,
  soundsSoFar,
  straightToTheTake,
  untilRows,
} from './pages.ts';
import { pagesOf } from './printed.ts';
import { playedTake } from './takes.ts';

const PHONE = { viewport: { width: 390, height: 844 } };

/** The real server with the built app, and browsers before it. */
interface Studio {
  readonly app: ServedApp;
  /** A link that makes the first machine of a new studio. */
  first(): Promise<string>;
  close(): Promise<void>;
}
async function openStudio(where: string | undefined): Promise<Studio> {
  const served = await serveBuiltApp();
  const db = await openDatabase(where && (await newDatabase(where)));
  const failures: unknown[] = [];
  const server = await makeServer({ db, dist: OUT, onFailure: (error) => failures.push(error) });
  const url = `${await server.listen({ host: '127.0.0.1', port: 0 })}/`;
  return {
    app: { ...served, url },
    first: async () => `${url}#/studio/first/${await newStudio(db, Date.now())}`,
    async close() {
      await served.close();
      await server.close();
      await db.close();
      expect(failures).toEqual([]);
    },
  };
}

const allSent = (page: Page): Promise<void> => page.getByText('all sent').first().waitFor(PATIENCE);
async function join(page: Page, link: string, name = 'Front room'): Promise<void> {
  await page.goto(link);
  await page.getByLabel(t('studio.name')).fill(name);
  await page.getByRole('button', { name: t('studio.join') }).click();
  await allSent(page);
}
/** A desk with the demonstration in its record, in a studio of its own. */
async function deskOf(studio: Studio, options: Parameters<typeof restored>[1] = {}) {
  const desk = await restored(studio.app, options);
  await remember(desk.page, { manner: 'relaxed' });
  await join(desk.page, await studio.first());
  await desk.page.getByText('Desk, this device').waitFor(PATIENCE);
  return desk;
}
/** A link for another machine, made at the desk. @param whose of a student; empty for a teacher's */
async function invited(app: ServedApp, desk: Page, whose = DEMO): Promise<string> {
  await desk.goto(`${app.url}#/studio`);
  await desk.getByLabel(t('studio.invite.whose')).selectOption(whose, PATIENCE);
  await desk.getByRole('button', { name: t('studio.invite.make') }).click();
  return (await desk.locator('a[href*="/studio/join/"]').getAttribute('href', PATIENCE))!;
}
async function phoneOf(app: ServedApp, link: string) {
  const phone = await app.page(PHONE);
  await remember(phone.page, { manner: 'relaxed' });
  await join(phone.page, link, 'Phone');
  return phone;
}
/** Sets one melody of level 1 on the student's page. */
async function setHomework(app: ServedApp, desk: Page, text: string): Promise<Homework> {
  await desk.goto(`${app.url}#/teacher/${DEMO}`);
  await desk.getByLabel('Melodies').selectOption('1');
  await desk.getByLabel('Rhythms').selectOption('0');
  await desk.getByLabel('at level').first().selectOption('1');
  await desk.getByLabel(t('homework.text')).fill(text);
  await desk.getByRole('button', { name: 'Make a link' }).click();
  await desk.getByText('One test, set').first().waitFor(PATIENCE);
  return (await rowsOf<Homework>(desk, 'homework')).find((one) => one.text === text)!;
}
/** The test of the page's homework, every note right. */
async function playHomework(page: Page, { tests }: Homework): Promise<void> {
  await arm(page, await playedTake(earTest(tests[0]!)!));
  const before = await soundsSoFar(page);
  await page.getByRole('button', { name: 'Begin test 1' }).click();
  await sounding(page, before);
  await straightToTheTake(page);
  await page.getByRole('button', { name: 'Next test' }).waitFor(PATIENCE);
}
/** Leaves a remark on the take that the page shows. */
async function say(page: Page, remark: string): Promise<void> {
  await page.getByLabel(t('attempt.remark'), { exact: true }).fill(remark);
  await page.getByRole('button', { name: t('attempt.save') }).click();
  await page.getByText(t('attempt.saved')).waitFor(PATIENCE);
}

/** Until a remark is in the record of the page. */
const untilSaid = (page: Page, remark: string): Promise<void> =>
  expect
    .poll(async () => (await rowsOf<Override>(page, 'overrides')).map((one) => one.remark), PATIENCE)
    .toContain(remark);

describe.each(ENGINES)('a studio in the built app', (where) => {
  let studio: Studio;
  let app: ServedApp;
  beforeAll(async () => {
    studio = await openStudio(where);
    ({ app } = studio);
  }, 180_000);
  afterAll(() => studio.close());

  it(`${engineName(where)}: homework appears on the student’s phone, the take at the desk, the remarks of two teachers on all machines; nobody sends anything`, async () => {
    const desk = await deskOf(studio);
    await look(desk.page, `studio-desk-${engineName(where)}`);
    const link = await invited(app, desk.page);
    await look(desk.page, 'studio-invitation');
    const phone = await app.page(PHONE);
    await remember(phone.page, { manner: 'relaxed' });
    await phone.page.goto(link.slice(0, -8));
    await phone.page.getByText(t('studio.join.broken')).waitFor(PATIENCE);
    await join(phone.page, link, 'Phone');
    await look(phone.page, 'studio-phone');
    await phone.page.setViewportSize(PHONE.viewport);
    expect((await rowsOf<Attempt>(phone.page, 'attempts')).length).toBe(DEMO_TESTS);
    expect(await rowsOf(phone.page, 'lessonNotes')).toEqual([]);
    const second = await app.page();
    await remember(second.page, { manner: 'relaxed' });
    await join(second.page, await invited(app, desk.page, ''), 'Back room');

    // From here on everybody only looks, plays and writes.
    await phone.page.goto(app.url);
    const set = await setHomework(app, desk.page, 'Sing it first.');
    await phone.page.getByText('Homework from your teacher is waiting.').waitFor(PATIENCE);
    await phone.page.goto(`${app.url}#/homework/${set.id}`);
    await phone.page.getByText('Sing it first.').waitFor(PATIENCE);
    await playHomework(phone.page, set);
    // The newest homework stands first.
    await desk.page.getByText('one attempt back').first().waitFor(PATIENCE);
    const [take] = (await rowsOf<Attempt>(desk.page, 'attempts')).filter(
      ({ homeworkId }) => homeworkId === set.id,
    );
    expect(take).toMatchObject({ studentId: DEMO, mark: { outcome: 'there' } });

    await expect
      .poll(async () => (await rowsOf<Attempt>(second.page, 'attempts')).map(({ id }) => id), PATIENCE)
      .toContain(take!.id);
    for (const one of [desk, second]) {
      await one.page.goto(`${app.url}#/teacher/${DEMO}/${take!.id}`);
      await one.page.getByLabel(t('attempt.remark'), { exact: true }).waitFor(PATIENCE);
    }
    await say(desk.page, 'Lovely ending.');
    await phone.page.goto(`${app.url}#/homework/${set.id}`);
    await phone.page.getByText('Lovely ending.').waitFor(PATIENCE);
    await look(phone.page, 'studio-remark');
    await phone.page.setViewportSize(PHONE.viewport);
    await untilSaid(second.page, 'Lovely ending.');
    await second.page.goto(`${app.url}#/teacher/${DEMO}`);
    await second.page.goto(`${app.url}#/teacher/${DEMO}/${take!.id}`);
    await second.page.getByText('Lovely ending.').first().waitFor(PATIENCE);
    await say(second.page, 'And now faster.');
    await phone.page.getByText('And now faster.').waitFor(PATIENCE);
    await untilSaid(desk.page, 'And now faster.');
    expect([...desk.problems, ...phone.problems, ...second.problems]).toEqual([]);
  });
});

describe('a studio in the built app, and what may happen to it', () => {
  let studio: Studio;
  let app: ServedApp;
  beforeAll(async () => {
    studio = await openStudio(ENGINES.at(-1));
    ({ app } = studio);
  }, 180_000);
  afterAll(() => studio.close());

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

  it('lets a lesson go on with the cable pulled, says what waits, and sends it by itself when it is back', async () => {
    const desk = await deskOf(studio, { serviceWorkers: 'allow' });
    const { page, context } = desk;
    const link = await invited(app, page, '');
    const other = new Device((path, init) => fetch(app.url.slice(0, -1) + path, init));
    await other.joinBy(readInvitation(link.split('/').at(-1)!, false)!);
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    await page.waitForFunction(async () => (await caches.keys()).length > 0, null, PATIENCE);
    await page.reload();
    await allSent(page);
    await context.setOffline(true);
    await page.reload();
    const set = await setHomework(app, page, 'Without the cable.');
    await page.getByLabel(t('student.notes.new')).fill('The cable was out.');
    await page.getByRole('button', { name: t('student.notes.add') }).click();
    await page.getByText('The cable was out.').first().waitFor(PATIENCE);
    await page.goto(`${app.url}#/start/melody/1/7`);
    await heading(page, 'What would you like');
    await page.keyboard.press('PageDown');
    await sounding(page);
    await straightToTheTake(page);
    await page
      .getByRole('button', { name: 'Next test' })
      .or(page.getByText('Not marked'))
      .first()
      .waitFor(PATIENCE);
    await page.goto(`${app.url}#/teacher`);
    await page.getByText(/3 changes to send; last seen/).waitFor(PATIENCE);
    await look(page, 'studio-offline');
    await other.sync();
    expect((await other.students.notes(DEMO)).map(({ text }) => text)).not.toContain('The cable was out.');
    await context.setOffline(false);
    await allSent(page);
    await other.sync();
    expect((await other.students.notes(DEMO)).map(({ text }) => text)).toContain('The cable was out.');
    expect((await other.students.homework(DEMO)).map(({ id }) => id)).toContain(set.id);
    expect(await other.db.attempts.count()).toBe(DEMO_TESTS + 1);
  });

  it('removes a phone: it keeps what it has, says so, and gets nothing more', async () => {
    const desk = await deskOf(studio);
    const phone = await phoneOf(app, await invited(app, desk.page));
    const had = (await rowsOf<Homework>(phone.page, 'homework')).length;
    await desk.page.goto(`${app.url}#/`);
    await desk.page.goto(`${app.url}#/studio`);
    const row = desk.page.locator('li', { hasText: 'Phone' });
    await row.getByRole('button', { name: t('studio.remove') }).click();
    await row.getByText('It keeps what it has').waitFor(PATIENCE);
    await look(desk.page, 'studio-remove');
    await row.getByRole('button', { name: t('studio.remove.yes') }).click();
    await row.waitFor({ ...PATIENCE, state: 'detached' });
    await setHomework(app, desk.page, 'Not for the thief.');
    await allSent(desk.page);
    await phone.page.getByRole('button', { name: t('studio.now') }).click();
    await phone.page.getByText(t('studio.problem.unknown-device')).first().waitFor(PATIENCE);
    await look(phone.page, 'studio-removed');
    expect(await rowsOf(phone.page, 'homework')).toHaveLength(had);
    expect(await rowsOf(phone.page, 'attempts')).toHaveLength(DEMO_TESTS);
    // Another link opens nothing in a studio; once left, a new one lets the phone in again.
    await phone.page.setViewportSize(PHONE.viewport);
    const again = await invited(app, desk.page);
    await phone.page.goto(again);
    await phone.page.getByText(t('studio.join.again')).waitFor(PATIENCE);
    await phone.page.getByRole('button', { name: t('studio.leave') }).click();
    await phone.page.getByText(t('studio.leave.sure')).waitFor(PATIENCE);
    await phone.page.getByRole('button', { name: t('studio.leave.yes') }).click();
    await phone.page.getByRole('button', { name: t('studio.join') }).click();
    await allSent(phone.page);
    await untilRows(phone.page, 'homework', had + 1);
  });

  it('lets a take be heard at the desk that was played on the phone, once a teacher has turned that on; turned off, it is gone', async () => {
    const desk = await deskOf(studio);
    const phone = await phoneOf(app, await invited(app, desk.page));
    const asked: string[] = [];
    phone.page.on('request', (request) =>
      asked.push(`${request.method()} ${new URL(request.url()).pathname}`),
    );
    const soundAsked = (): string[] => asked.filter((one) => one.includes('/studio/v1/sound'));
    await phone.page.goto(`${app.url}#/data`);
    await phone.page.getByLabel(t('data.sound.on')).check(PATIENCE);
    await phone.page.getByText(t('data.sound.help')).waitFor(PATIENCE);
    const set = await setHomework(app, desk.page, 'I would like to hear this.');
    const takes = async (page: Page): Promise<string[]> =>
      (await rowsOf<Attempt>(page, 'attempts'))
        .filter(({ homeworkId }) => homeworkId === set.id)
        .sort((a, b) => a.order - b.order)
        .map(({ id }) => id);
    const play = async (count: number): Promise<string> => {
      await phone.page.goto(`${app.url}#/homework/${set.id}`);
      await phone.page.getByText(set.text).waitFor(PATIENCE);
      await playHomework(phone.page, set);
      await untilRows(phone.page, 'audio', count);
      await expect.poll(() => takes(desk.page), PATIENCE).toHaveLength(count);
      return (await takes(desk.page))[count - 1]!;
    };
    await expect.poll(() => rowsOf<Homework>(phone.page, 'homework'), PATIENCE).toContainEqual(set);
    const silent = await play(1);
    expect(soundAsked()).toEqual([]);

    await desk.page.goto(`${app.url}#/studio`);
    await desk.page.getByLabel(t('studio.sound.on')).check(PATIENCE);
    await desk.page.getByText(/The studio holds the sound of 0 takes: 0\.0 of 2,000 MB/).waitFor(PATIENCE);
    await look(desk.page, 'studio-sound');
    await phone.page.goto(`${app.url}#/studio`);
    await phone.page.getByRole('button', { name: t('studio.now') }).click(PATIENCE);
    await phone.page.getByText(t('studio.sound.student')).waitFor(PATIENCE);
    await look(phone.page, 'studio-sound-student');
    const heard = await play(2);
    await expect.poll(soundAsked, PATIENCE).toContain('POST /studio/v1/sound');

    await desk.page.goto(`${app.url}#/teacher/${DEMO}/${silent}`);
    await desk.page.getByText(t('attempt.silent')).waitFor(PATIENCE);
    await desk.page.goto(`${app.url}#/teacher/${DEMO}/${heard}`);
    const listen = desk.page.getByRole('button', { name: t('studio.sound.hear') });
    await listen.waitFor(PATIENCE);
    await look(desk.page, 'studio-sound-there');
    expect(await desk.page.getByText(t('attempt.silent')).count()).toBe(0);
    const before = await soundsSoFar(desk.page);
    await listen.click();
    await sounding(desk.page, before);
    await desk.page.getByRole('button', { name: t('attempt.hear') }).waitFor(PATIENCE);
    await listen.waitFor({ ...PATIENCE, state: 'detached' });
    await look(desk.page, 'studio-sound-heard');
    // This desk keeps no sound: it has only played it.
    const keptHere = (await rowsOf<SavedAudio>(desk.page, 'audio')).map(({ attemptId }) => attemptId);
    expect(keptHere).not.toContain(heard);

    await desk.page.goto(`${app.url}#/studio`);
    await desk.page.getByLabel(t('studio.sound.off')).check(PATIENCE);
    await desk.page.getByText(/Nothing more is sent, and the sound of one take/).waitFor(PATIENCE);
    await look(desk.page, 'studio-sound-off');
    await desk.page.getByRole('button', { name: t('studio.sound.yes') }).click();
    await desk.page
      .getByText(/holds the sound of/)
      .first()
      .waitFor({ ...PATIENCE, state: 'detached' });
    await desk.page.goto(`${app.url}#/teacher/${DEMO}/${heard}`);
    await desk.page.getByText(t('attempt.silent')).waitFor(PATIENCE);
    expect(await rowsOf(phone.page, 'audio')).toHaveLength(2);
    expect([...desk.problems, ...phone.problems]).toEqual([]);
  });

  it('gives a recovery sheet, on screen and on paper, from which a new machine has all again', async () => {
    const desk = await deskOf(studio);
    await desk.page.getByRole('button', { name: t('studio.sheet.make') }).click();
    const shown = await desk.page.locator('p.code').last().textContent(PATIENCE);
    const code = shown!.replace(/\s/g, '');
    expect(code).toMatch(/^[0-9a-f]{32}\.[0-9a-f]{32}\.[\w-]{43}$/);
    await look(desk.page, 'studio-sheet');
    await desk.page.emulateMedia({ media: 'print' });
    await look(desk.page, 'studio-sheet-printed');
    const pages = await pagesOf(await desk.page.pdf({ format: 'A4' }));
    await desk.page.emulateMedia({ media: 'screen' });
    expect(pages).toHaveLength(1);
    const printed = pages[0]!.map(({ text }) => text).join('');
    expect(printed.replace(/\s/g, '')).toContain(code);
    expect(printed).toContain(app.url);
    // Every device is lost.
    await desk.context.close();
    const found = await app.page();
    await found.page.goto(`${app.url}#/studio`);
    await found.page.getByText(t('studio.recover')).first().click();
    await found.page.getByLabel(t('studio.recover.code')).fill(shown!);
    await look(found.page, 'studio-recover');
    await found.page.getByRole('button', { name: t('studio.recover') }).click();
    await allSent(found.page);
    expect(await rowsOf(found.page, 'attempts')).toHaveLength(DEMO_TESTS);
    await found.page.getByText(t('studio.sheet'), { exact: true }).first().waitFor(PATIENCE);
    expect(found.problems).toEqual([]);
  });

  it('has every row once on a page that was killed again and again while it fetched them', async () => {
    const desk = new Device((path, init) => fetch(app.url.slice(0, -1) + path, init));
    await desk.founded((await studio.first()).split('/').at(-1)!);
    const { id } = await desk.students.add('Kept', 'guitar');
    const wanted: string[] = [];
    for (let n = 0; n < 2300; n++) wanted.push((await desk.students.addNote(id, `note ${n}`)).id);
    await desk.sync();
    const { page, context } = await app.page();
    await remember(page, {});
    // A slow line, so that there is something to be cut.
    await context.route('**/studio/v1/pull*', async (route) => {
      await pause(250);
      await route.continue().catch(() => undefined);
    });
    await page.goto(`${app.url}#/studio/join/${writeInvitation(await desk.invite(null))}`);
    await page.getByRole('button', { name: t('studio.join') }).click();
    const random = makeRandom(20_261_130);
    const seen: number[] = [];
    let now = page;
    const count = async (): Promise<number> => (await rowsOf<LessonNote>(now, 'lessonNotes')).length;
    // Each page fetches something more, and is killed on the way to what comes next.
    for (let before = 0; before < wanted.length;) {
      while ((await count()) <= before) await pause(20);
      await pause(random.between(0, 300));
      await crash(context, now);
      await now.close();
      now = await context.newPage();
      await now.goto(`${app.url}#/licences`);
      before = await count();
      seen.push(before);
    }
    await untilRows(now, 'lessonNotes', wanted.length);
    const there = (await rowsOf<LessonNote>(now, 'lessonNotes')).map((note) => note.id);
    expect(there.sort()).toEqual(wanted.sort());
    expect(seen.length).toBeGreaterThan(2);
  });
});

/** The tab dies as by a fault of the browser: no event, no farewell. */
async function crash(context: BrowserContext, page: Page): Promise<void> {
  const died = page.waitForEvent('crash', PATIENCE);
  const cdp = await context.newCDPSession(page);
  void cdp.send('Page.crash').catch(() => undefined);
  await died;
}
