import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { homeworkFragment } from '../../src/store/index.ts';
import type { Attempt, Student } from '../../src/store/index.ts';
import { makeTest } from '../../src/tests-engine/index.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import {
  heading,
  onward,
  PATIENCE,
  remember,
  restored,
  rowsOf,
  sounding,
  soundsSoFar,
  straightToTheTake,
  untilRows,
} from './pages.ts';

/** Through the sound check by its keys, loudspeakers that no microphone hears, and no latency measured. */
async function soundCheck(page: Page): Promise<void> {
  for (const title of ['Before you play', 'What do you play?', 'Which microphone']) {
    await heading(page, title);
    await onward(page);
  }
  await page.getByText('Microphone on').waitFor(PATIENCE);
  await onward(page);
  for (const title of ['lowest string', 'in tune', 'sound come out']) {
    await heading(page, title);
    await onward(page);
  }
  await heading(page, 'How well can I hear you');
  await page.getByRole('button', { name: 'Skip' }).click();
}
/** A test runs: one of its steps is the current one. */
const inTest = (page: Page) => page.locator('li[aria-current="step"]').waitFor(PATIENCE);
const whoPlays = (page: Page) => page.getByRole('combobox', { name: 'Playing' });

describe('a lesson in the built app', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(() => app.close());

  it('brings a fresh phone from the link of homework through the sound check to its test, and shows what is left until it is done', async () => {
    const tests = [11, 12].map((seed) => makeTest({ kind: 'melody', level: 1, seed, instrument: 'guitar' }));
    const homework = {
      ...{ id: 'a'.repeat(32), studentId: 'b'.repeat(32), createdAtMs: 1, manner: 'relaxed' as const, tests },
      ...{ dueOn: null, text: '' },
    };
    const fragment = await homeworkFragment(homework, { there: 85, close: 65 });
    const { page, context, problems } = await app.page({ viewport: { width: 390, height: 844 } });
    await page.goto(`${app.url}#homework=${fragment}`);
    await page.getByText('2 tests from your teacher').waitFor(PATIENCE);
    await page.getByRole('button', { name: 'Begin test 1' }).click();
    await soundCheck(page);
    // No second "Begin".
    await sounding(page);
    await inTest(page);
    expect(page.url()).toContain('#/test');
    await page.getByRole('button', { name: 'Stop' }).click();
    await heading(page, 'What would you like');
    await page.getByText('Homework from your teacher is waiting.').waitFor(PATIENCE);
    // After the app was closed it is still there, on the first page and in the menu.
    await page.goto(app.url);
    await page.reload();
    await page.getByRole('link', { name: 'Go to your homework' }).waitFor(PATIENCE);
    await page.getByRole('button', { name: 'Menu' }).click();
    await page.getByRole('link', { name: 'Homework (2)' }).click();
    await page.getByText('2 of 2 left').waitFor(PATIENCE);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('goes on from Begin through the sound check to the test that was chosen, and turning back goes back there', async () => {
    const { page, context, problems } = await app.page();
    await page.goto(`${app.url}#/start/melody/1/5`);
    await heading(page, 'What would you like');
    await page.getByRole('button', { name: 'Begin' }).click();
    await heading(page, 'Before you play');
    await page.keyboard.press('PageUp');
    await heading(page, 'What would you like');
    expect(page.url()).toContain('#/start/melody/1/5');
    await page.getByRole('button', { name: 'Begin' }).click();
    await soundCheck(page);
    await sounding(page);
    await inTest(page);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('has one first student also where the practice page is opened first', async () => {
    const { page, context } = await app.page();
    await remember(page, {});
    await page.goto(`${app.url}#/practice`);
    await page.getByRole('button', { name: 'Begin' }).nth(1).waitFor(PATIENCE);
    expect((await rowsOf<Student>(page, 'students')).map(({ name }) => name)).toEqual(['Me']);
    await context.close();
  });

  it('says who plays wherever a take could go to a record, changes it in one choice, and moves or deletes a test that went wrong', async () => {
    const { page, context, problems } = await restored(app);
    await page.goto(`${app.url}#/teacher`);
    const [first] = await rowsOf<Student>(page, 'students');
    await page.getByLabel('Name or initials').fill('K. O.');
    await page.getByRole('button', { name: 'Add a student' }).click();
    await page.getByRole('link', { name: 'K. O.' }).waitFor(PATIENCE);
    // Nobody was chosen of two: that is asked, and then the test begins.
    await page.goto(`${app.url}#/start/melody/1/7`);
    await heading(page, 'What would you like');
    await page.getByRole('button', { name: 'Begin' }).click();
    await heading(page, 'Who is playing?');
    await page.getByRole('button', { name: 'K. O.' }).click();
    await sounding(page);
    await page.getByText('Playing:').waitFor(PATIENCE);
    expect(await page.locator('header').innerText()).toContain('K. O.');
    await page.getByRole('button', { name: 'Stop' }).click();
    for (const place of ['', '#/practice', '#/phrases', '#/homework']) {
      await page.goto(`${app.url}${place}`);
      await whoPlays(page).waitFor(PATIENCE);
      expect(await whoPlays(page).locator('option:checked').innerText()).toBe('K. O.');
    }
    await page.goto(`${app.url}#/`);
    await page.getByRole('radio', { name: 'With help' }).check();
    await whoPlays(page).selectOption(first!.id);
    await page.reload();
    await whoPlays(page).waitFor(PATIENCE);
    expect(await whoPlays(page).inputValue()).toBe(first!.id);

    // A take in silence: not marked, so the large button and the pedal play it again.
    await page.getByRole('button', { name: 'Begin' }).click();
    await sounding(page);
    await straightToTheTake(page);
    await page.getByText('Not marked', { exact: true }).waitFor(PATIENCE);
    const large = page.locator('.go button').first();
    expect(await large.innerText()).toBe('Play it again');
    await page.getByText('Space or Page Down plays it again. Page Up takes the next test.').waitFor(PATIENCE);
    await page.getByText('Kept under “A. B.”').waitFor(PATIENCE);
    await page.getByText('Move or delete this test').click();
    const [moved] = (await rowsOf<Attempt>(page, 'attempts')).sort((a, b) => b.order - a.order);
    await page.getByLabel('Move it to the record of').selectOption({ label: 'K. O.' });
    await page.getByText('It is now in the record of K. O.').waitFor(PATIENCE);
    const whose = (await rowsOf<Attempt>(page, 'attempts')).find(({ id }) => id === moved!.id)!.studentId;
    expect(whose).not.toBe(first!.id);
    const before = await soundsSoFar(page);
    await onward(page);
    await sounding(page, before);
    await inTest(page);
    await page.getByRole('button', { name: 'Stop' }).click();

    const count = (await rowsOf<Attempt>(page, 'attempts')).length;
    await page.goto(`${app.url}#/teacher/${whose}/${moved!.id}`);
    await page.getByText('Move or delete this test').click();
    await page.getByRole('button', { name: 'Delete this test' }).click();
    await page.getByRole('button', { name: 'Delete for good' }).click();
    await heading(page, 'K. O.');
    await untilRows(page, 'attempts', count - 1);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('says of a backup just restored that everything is in it', async () => {
    const { page, context } = await restored(app);
    await page.getByText('Everything here is in a backup.').waitFor(PATIENCE);
    expect(await page.getByText('in no backup').count()).toBe(0);
    await context.close();
  });
});
