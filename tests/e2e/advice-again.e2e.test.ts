import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { LEVELS, levelList, makeTest, SHAPE_FAMILIES } from '../../src/tests-engine/index.ts';
import { AUDIO_PROBLEMS, t } from '../../src/ui/messages.ts';
import type { Attempt } from '../../src/store/index.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import {
  beginLinked,
  DEMO,
  DEMO_TESTS,
  demoFile,
  heading,
  onward,
  PATIENCE,
  remember,
  restored,
  rowsOf,
  sounding,
  straightToTheTake,
  recordThere,
  untilRows,
} from './pages.ts';

/** Puts a value under a key of the record, beside the app. */
async function keep(page: Page, key: string, value: unknown): Promise<void> {
  await recordThere(page);
  await page.evaluate(
    (row) =>
      new Promise<void>((resolve, reject) => {
        const asked = indexedDB.open('twobar');
        asked.onerror = () => reject(asked.error!);
        asked.onsuccess = () => {
          const db = asked.result;
          const writing = db.transaction('settings', 'readwrite');
          writing.objectStore('settings').put(row);
          writing.oncomplete = () => (db.close(), resolve());
        };
      }),
    { key, value } as never,
  );
}
const says = (page: Page, text: string) => page.getByText(text, { exact: false }).first().waitFor(PATIENCE);
const press = (page: Page, name: string | RegExp) =>
  page.getByRole('button', { name }).first().click(PATIENCE);

/** A choice of one among several, by its label. */
const choice = (page: Page, label: string) =>
  page.locator('label', { has: page.getByText(label, { exact: true }) }).locator('select');

describe('what is said to do, and done', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(() => app.close());

  /** A page that cannot fetch what matches until `online` is called. */
  async function offline(files: RegExp) {
    const opened = await app.page({ serviceWorkers: 'block' });
    const { page } = opened;
    await page.route(files, (route) => route.abort('internetdisconnected'));
    return { ...opened, online: () => page.unroute(files) };
  }

  it('about what could not be fetched: online again it comes, and the settings are as they were', async () => {
    const { page, context, online } = await offline(/assets\/(Progress|vexflow|german|audio)-[^/]*\.js/);
    await page.goto(app.url);
    await heading(page, 'What would you like');
    // A setting that must still be there after the page was loaded again.
    await page.getByText(t('start.kind.rhythm'), { exact: true }).first().click();
    const chosen = () => page.evaluate(() => localStorage.getItem('twobar.settings'));
    const before = await chosen();
    expect(before).toContain('rhythm');
    const to = (hash: string) => page.evaluate((place) => (location.hash = place), hash);
    await to('#/progress');
    await says(page, t('error.remedy'));
    await to('#/licences');
    await says(page, t('licences.failed'));
    await to('#/settings');
    await page.getByText('Deutsch', { exact: true }).click();
    await says(page, t('settings.language.failed'));
    expect(await chosen()).toBe(before);

    await online();
    await page.getByText('English', { exact: true }).click();
    await page.getByText('Deutsch', { exact: true }).click();
    await page.locator('html[lang="de"]').waitFor(PATIENCE);
    await page.getByText('English', { exact: true }).click();
    await page.locator('html[lang^="en"]').waitFor(PATIENCE);
    await to('#/progress');
    await page.reload();
    await heading(page, t('progress.title'));
    await to('#/licences');
    await page.reload();
    await page
      .getByRole('link', { name: t('licences.origin') })
      .first()
      .waitFor(PATIENCE);
    expect(await chosen()).toContain('rhythm');
    await context.close();
  });

  it('about notation that could not be drawn: loaded again online, it is', async () => {
    const { page, context, online } = await offline(/assets\/vexflow-[^/]*\.js/);
    await remember(page, {});
    const phrase = makeTest({ kind: 'melody', level: 2, seed: 4, instrument: 'guitar' });
    await page.goto(`${app.url}#/data`);
    await heading(page, 'Data');
    await keep(page, 'ownPhrases', [{ id: 'one', name: 'One', value: phrase }]);
    await page.evaluate(() => (location.hash = '#/phrases/one'));
    await says(page, t('score.failed'));
    await online();
    await page.reload();
    await page.locator('.vf-notehead').first().waitFor(PATIENCE);
    await context.close();
  });

  it('about sounds that could not be fetched: with the connection back, tried again, the test begins', async () => {
    const { page, context, online } = await offline(/\.mp3/);
    await remember(page, {});
    await page.goto(`${app.url}#/start/melody/1/3`);
    await heading(page, 'What would you like');
    await onward(page);
    const { text, remedy } = AUDIO_PROBLEMS['assets-missing'];
    const alert = page.getByRole('alert').filter({ hasText: text });
    await alert.waitFor(PATIENCE);
    expect(await alert.innerText()).toContain(remedy);
    await online();
    await press(page, 'Try again');
    await sounding(page);
    await context.close();
  });

  it('about a microphone that was pulled: nothing is marked, and plugged in again the same test is taken', async () => {
    const { page, context, problems } = await app.page();
    await remember(page, { manner: 'relaxed' });
    await beginLinked(page, app, 'melody/1/5');
    await straightToTheTake(page);
    await page.evaluate(() => window.__twobarPlayer!.unplug());
    await page.getByRole('alert').getByText(t('test.void.remedy')).waitFor(PATIENCE);
    expect(await rowsOf(page, 'attempts')).toEqual([]);
    await press(page, t('test.void.again'));
    await sounding(page);
    await straightToTheTake(page);
    await onward(page);
    await page.getByRole('button', { name: 'Next test' }).waitFor(PATIENCE);
    await untilRows(page, 'attempts', 1);
    const [attempt] = await rowsOf<Attempt>(page, 'attempts');
    expect('phrase' in attempt!.test && attempt!.test.seed).toBe(5);
    // Pulled between tests, it is asked for and told.
    await page.evaluate(() => window.__twobarPlayer!.unplug());
    await press(page, 'Next test');
    await sounding(page, 3);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('about lists that are full: one deleted, the next is saved, and what was typed is still there', async () => {
    const { page, context, problems } = await app.page();
    await remember(page, {});
    const phrase = makeTest({ kind: 'melody', level: 1, seed: 1, instrument: 'guitar' });
    const many = <T>(value: T) =>
      Array.from({ length: 500 }, (_, i) => ({ id: `k${i}`, name: `Kept ${i}`, value }));
    await page.goto(`${app.url}#/data`);
    await heading(page, 'Data');
    await keep(page, 'ownPhrases', many(phrase));
    await keep(page, 'ownLevels', many({ ...LEVELS[0]!, name: 'Kept' }));
    await keep(page, 'ownScales', many({ ...levelList(1, 'guitar'), name: 'Kept' }));

    const to = (hash: string) => page.evaluate((place) => (location.hash = place), hash);
    await to('#/phrases');
    await press(page, t('phrases.write'));
    await page.getByLabel(t('edit.name')).fill('The one more');
    await press(page, new RegExp(`^${t('edit.save')}$`));
    await says(page, t('phrases.full', { most: 500 }));
    await to('#/phrases/k3');
    await heading(page, 'Kept 3');
    await press(page, t('edit.remove'));
    await press(page, t('edit.remove.sure'));
    await to('#/phrases/new');
    await expect.poll(() => page.getByLabel(t('edit.name')).inputValue(), PATIENCE).toBe('The one more');
    await press(page, new RegExp(`^${t('edit.save')}$`));
    await says(page, t('edit.saved'));

    await to('#/phrases/levels');
    const name = page.getByLabel(t('levels.name')).first();
    await name.fill('The level more');
    await press(page, t('levels.save'));
    await says(page, t('levels.full', { most: 500 }));
    await press(page, t('levels.remove'));
    expect(await name.inputValue()).toBe('The level more');
    await press(page, t('levels.save'));
    await says(page, t('levels.saved', { name: 'The level more' }));

    await to('#/scales');
    await press(page, t('scales.list.new'));
    await says(page, t('scales.list.full'));
    await choice(page, t('scales.list')).selectOption('k7');
    await press(page, t('scales.list.remove'));
    await press(page, t('scales.list.new'));
    await says(page, t('scales.none'));
    expect(problems).toEqual([]);
    await context.close();
  });

  it('about what was deleted: a file that was exported earlier brings each back', async () => {
    const { page, context, problems } = await restored(app);
    const file = await demoFile();
    const restore = async () => {
      await page.goto(`${app.url}#/data`);
      await heading(page, 'Data');
      await page.locator('input[type=file]').setInputFiles(file);
      await untilRows(page, 'attempts', DEMO_TESTS);
    };
    const [attempt] = await rowsOf<Attempt>(page, 'attempts');
    await page.goto(`${app.url}#/teacher/${DEMO}/${attempt!.id}`);
    await page.getByText(t('attempt.wrong-record')).click();
    await press(page, t('attempt.delete'));
    await says(page, t('attempt.delete.sure'));
    await press(page, t('student.delete.yes'));
    await untilRows(page, 'attempts', DEMO_TESTS - 1);
    await restore();
    await page.goto(`${app.url}#/teacher/${DEMO}`);
    await press(page, t('student.delete'));
    await says(page, t('student.delete.sure', { name: 'A. B.' }));
    await press(page, t('student.delete.yes'));
    for (const table of ['students', 'attempts', 'overrides', 'lessonNotes', 'homework', 'audio'])
      await untilRows(page, table, 0);
    await restore();
    await page.goto(`${app.url}#/data`);
    await press(page, t('data.delete'));
    await says(page, t('data.delete.sure'));
    await press(page, t('student.delete.yes'));
    for (const table of ['students', 'attempts', 'audio', 'settings']) await untilRows(page, table, 0);
    await restore();
    expect(await rowsOf(page, 'lessonNotes')).toHaveLength(1);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('about chords, homework and scales that cannot be: what is said to choose can', async () => {
    const { page, context, problems } = await restored(app);
    await remember(page, { manner: 'relaxed' });
    // No kind of shape left, then one; none of that kind in the key, then more kinds.
    await page.goto(`${app.url}#/chords`);
    const kinds = page.getByRole('checkbox');
    for (let i = 0; i < SHAPE_FAMILIES.length; i++)
      if (await kinds.nth(i).isChecked()) await kinds.nth(i).click();
    await says(page, t('chords.families.none'));
    expect(await page.locator('input[type=checkbox]:checked').count()).toBe(1);
    const slash = page.getByRole('checkbox', { name: t('chords.family.slash') });
    if (!(await slash.isChecked())) await slash.click();
    for (let i = 0; i < SHAPE_FAMILIES.length; i++)
      if (SHAPE_FAMILIES[i] !== 'slash' && (await kinds.nth(i).isChecked())) await kinds.nth(i).click();
    await choice(page, t('chords.key')).selectOption('E major');
    await onward(page);
    await says(page, t('chords.no-fit'));
    await page.getByRole('checkbox', { name: t('chords.family.barre') }).click();
    await onward(page);
    await page.locator('li[aria-current="step"]').waitFor(PATIENCE);
    await press(page, t('test.stop'));

    // More than ten tests, then some taken out.
    await page.goto(`${app.url}#/teacher/${DEMO}`);
    await choice(page, t('homework.melodies')).selectOption('8');
    await choice(page, t('homework.rhythms')).selectOption('4');
    await says(page, t('homework.too-many', { most: 10 }));
    expect(await page.getByRole('button', { name: t('student.homework.set') }).isDisabled()).toBe(true);
    await choice(page, t('homework.rhythms')).selectOption('2');
    await press(page, t('student.homework.set'));
    await untilRows(page, 'homework', 2);

    // An empty list, to which a scale is added.
    await page.goto(`${app.url}#/scales`);
    await press(page, t('scales.list.new'));
    await says(page, t('scales.none'));
    await press(page, new RegExp(`^${t('scales.add.one')}$`));
    await page.getByText(t('scales.none')).waitFor({ ...PATIENCE, state: 'detached' });

    // No take with sound left to mark: turned on, and a test run, there is one.
    await page.goto(`${app.url}#/data`);
    await press(page, t('data.delete'));
    await press(page, t('student.delete.yes'));
    await untilRows(page, 'attempts', 0);
    await page.goto(`${app.url}#/teacher/blind`);
    await says(page, t('blind.none'));
    await page.goto(`${app.url}#/data`);
    await page.getByText(t('data.sound.on'), { exact: true }).click();
    await beginLinked(page, app, 'melody/1/5');
    await straightToTheTake(page);
    await onward(page);
    await page.getByRole('button', { name: 'Next test' }).waitFor(PATIENCE);
    await untilRows(page, 'audio', 1);
    await page.goto(`${app.url}#/teacher/blind`);
    await page.getByLabel(t('blind.value')).waitFor(PATIENCE);
    expect(problems).toEqual([]);
    await context.close();
  });
});
