import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { pageOfMusic } from '../../src/music/task.ts';
import type { Attempt, Homework } from '../../src/store/index.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { DEMO, heading, keepCopies, PATIENCE, remember, restored, rowsOf } from './pages.ts';
import { asWritten, markShown, playToClick, step } from './written.ts';

describe('a page to read and a scale as homework, in the built app', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(() => app.close());

  it('go to the student by link; the page is played there and comes back to the desk, to its sheet, and out as a file of notes', async () => {
    const teacher = await restored(app);
    await teacher.page.goto(`${app.url}#/teacher/${DEMO}`);
    await teacher.page.reload();
    const copied = await keepCopies(teacher.page);
    await teacher.page.getByLabel('Melodies').selectOption('0');
    await teacher.page.getByLabel('Rhythms').selectOption('0');
    await teacher.page.getByText('Pages, scales, chords').click();
    await teacher.page.getByLabel('Pages to read').selectOption('1');
    await teacher.page.getByLabel('at level').nth(2).selectOption('1');
    await teacher.page.getByLabel(/^Scales/).selectOption('1');
    await teacher.page.getByLabel('from the list').selectOption('level 2');
    await teacher.page.getByRole('button', { name: 'Make a link' }).click();
    await teacher.page.getByText('2 tests, set').waitFor(PATIENCE);
    await teacher.page.getByRole('button', { name: 'Copy the link' }).first().click();
    await teacher.page.getByRole('button', { name: 'Copied' }).waitFor(PATIENCE);
    const link = await copied();
    const [set] = (await rowsOf<Homework>(teacher.page, 'homework')).filter(
      ({ tests }) => tests.length === 2,
    );
    const task = pageOfMusic(set!.tests[0]!)!;

    const student = await app.page();
    await remember(student.page, { output: 'speakers' });
    await student.page.goto(link);
    await student.page.getByText('2 tests from your teacher').waitFor(PATIENCE);
    const items = await student.page.locator('main ol li').allInnerTexts();
    expect(items[0]).toContain('Sight reading, level 1');
    expect(items[1]).toContain('Scale, level 2');
    await student.page.getByRole('button', { name: 'Begin test 1' }).click();
    await step(student.page, 'Prepare');
    await student.page.locator('.vf-notehead').first().waitFor(PATIENCE);
    await playToClick(student.page, task, asWritten(task));
    await student.page.keyboard.press('PageDown');
    expect(await markShown(student.page)).toBeGreaterThanOrEqual(95);
    await student.page.keyboard.press('PageDown');
    await heading(student.page, 'Homework');
    await student.page.getByText('1 of 2 left').waitFor(PATIENCE);
    const results = student.page.waitForEvent('download');
    await student.page.getByRole('button', { name: 'Save results as a file' }).click();
    const buffer = readFileSync(await (await results).path());

    // At the desk: the attempt, its file of notes, and the sheet that is taken home.
    await teacher.page.goto(`${app.url}#/teacher`);
    await teacher.page.getByRole('link', { name: 'A. B.' }).waitFor(PATIENCE);
    const file = { name: 'twobar-results.twobar', mimeType: 'application/octet-stream', buffer };
    await teacher.page.locator('input[type=file]').setInputFiles(file);
    await teacher.page.getByText('One new attempt was added for A. B.').waitFor(PATIENCE);
    const [back] = (await rowsOf<Attempt>(teacher.page, 'attempts')).filter(
      ({ homeworkId }) => homeworkId === set!.id,
    );
    await teacher.page.goto(`${app.url}#/teacher/${DEMO}/${back!.id}`);
    await heading(teacher.page, 'Sight reading, level 1');
    await teacher.page.locator('.vf-notehead').first().waitFor(PATIENCE);
    await teacher.page.getByText('Save or send this test').click();
    const notes = teacher.page.waitForEvent('download');
    await teacher.page.getByRole('button', { name: 'MusicXML' }).click();
    const xml = readFileSync(await (await notes).path(), 'utf8');
    expect(xml).toContain('<work-title>Sight reading, level 1</work-title>');
    expect(xml.match(/<fret>/g)).toHaveLength(task.phrase.notes.length);
    await teacher.page.goto(`${app.url}#/teacher/${DEMO}/sheet`);
    const article = teacher.page.locator('article', { hasText: 'Sight reading, level 1' });
    await article.locator('.vf-notehead').first().waitFor(PATIENCE);
    expect([...teacher.problems, ...student.problems]).toEqual([]);
    await student.context.close();
    await teacher.context.close();
  });
});
