import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { SittingRun, SittingSetup } from '../../src/music/sitting.ts';
import { namedScale, pageOfMusic } from '../../src/music/task.ts';
import { itemNow, standardTuning, type Task } from '../../src/tests-engine/index.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { violationsIn } from './axe.ts';
import { press, type } from './keyboard.ts';
import { heading, onward, PATIENCE, remember, rowsOf } from './pages.ts';
import { asWritten, playWhenReady, step } from './written.ts';

const ID = 'ab'.repeat(16);
/** Short windows, one item a station: a sitting of a minute and a half. */
const SETUP: SittingSetup = {
  ...{ version: 1, id: ID, name: 'Short', instrument: 'guitar', tuning: standardTuning('guitar').strings },
  stations: [
    { what: 'sound', weight: 0 },
    { what: 'scales', weight: 60, level: 1, list: null, count: 1, click: false },
    {
      ...{ what: 'unseen', weight: 40, offers: 'both', shows: 'staff', click: false, plays: 'line' },
      ...{ readingLevel: 1, readingSec: 1, improvisingLevel: 1, improvisingSec: 1 },
    },
    { what: 'questions', weight: 0, level: 1, count: 2 },
  ],
};

/** The setup as the app itself keeps it; the app is reloaded after it. */
const keepSetup = (page: Page): Promise<unknown> =>
  page.evaluate((setup) => {
    const row = { key: 'sittingSetups', value: [{ id: setup.id, name: setup.name, value: setup }] };
    return new Promise((resolve, reject) => {
      const asked = indexedDB.open('twobar');
      asked.onerror = () => reject(asked.error);
      asked.onsuccess = () => {
        const writing = asked.result.transaction('settings', 'readwrite');
        writing.objectStore('settings').put(row);
        writing.oncomplete = () => (asked.result.close(), resolve(null));
      };
    });
  }, SETUP);

/** Until the examiner says this. */
const said = (page: Page, words: string): Promise<void> =>
  page.locator('p.says', { hasText: words }).waitFor(PATIENCE);

/** The sitting under way as it lies on the disk. */
async function runOf(page: Page): Promise<SittingRun> {
  const rows = await rowsOf<{ key: string; value: unknown }>(page, 'settings');
  const kept = rows.find(({ key }) => key === 'sitting')?.value as { run: SittingRun } | undefined;
  if (!kept) throw new Error('no sitting is under way');
  return kept.run;
}
/** Until an item of this kind is under way; the task itself. */
async function taskOf(page: Page, kind: Task['kind']): Promise<Task> {
  const until = Date.now() + PATIENCE.timeout;
  for (;;) {
    const run = await runOf(page);
    const item = run.phase === 'under' ? itemNow(run) : null;
    if (item?.is === 'task' && item.task.kind === kind) return item.task;
    if (Date.now() > until) throw new Error(`no ${kind} ever began; it stands at ${run.at}, ${run.phase}`);
    await page.waitForTimeout(50);
  }
}

describe('a whole sitting in the built app, with recorded notes at the microphone', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(() => app.close());

  it('goes through every station by keyboard alone, an unplugged microphone and a reload cost nothing and give new material, and the report tells it all', async () => {
    const { page, context, problems } = await app.page();
    await remember(page, { output: 'speakers', manner: 'relaxed' });
    await page.goto(`${app.url}#/sitting`);
    await heading(page, 'A whole sitting');
    await page.getByText('Put one together').waitFor(PATIENCE);
    await keepSetup(page);
    await page.reload();
    await page.getByText('Short').waitFor(PATIENCE);
    expect(await violationsIn(page, 'sittings')).toEqual([]);

    await onward(page);
    await heading(page, 'Sound check');
    await onward(page);
    await page.getByRole('button', { name: 'The level is good' }).waitFor(PATIENCE);
    await onward(page);

    // A scale, and the plug is pulled in the middle of it.
    await heading(page, 'Scales and arpeggios');
    expect(await violationsIn(page, 'station')).toEqual([]);
    await onward(page);
    const first = await taskOf(page, 'scale');
    await step(page, 'Prepare');
    await page.evaluate(() => window.__twobarPlayer!.unplug());
    await page.getByText('The microphone was unplugged.').waitFor(PATIENCE);
    await onward(page);
    const scale = namedScale(await taskOf(page, 'scale'))!;
    expect(JSON.stringify(scale)).not.toBe(JSON.stringify(first));
    await step(page, 'Prepare');
    await onward(page);
    await step(page, 'Play when you are ready');
    await playWhenReady(page, asWritten(scale));

    // The choice by two keys: on to improvising, back to the page.
    await said(page, 'Would you like to read a page');
    // Nothing was told of the scale on the way.
    expect(await page.locator('p.number').count()).toBe(0);
    await page.keyboard.press('PageUp');
    await page.locator('button[aria-pressed="true"]', { hasText: 'Improvising' }).waitFor(PATIENCE);
    await page.keyboard.press('PageUp');
    await page.locator('button[aria-pressed="true"]', { hasText: 'Sight reading' }).waitFor(PATIENCE);
    await onward(page);
    const reading = pageOfMusic(await taskOf(page, 'reading'))!;
    await step(page, 'Play when you are ready');
    await playWhenReady(page, asWritten(reading));

    // A break, then the questions, and the page is loaded anew in the middle of them.
    await said(page, 'Now a few questions');
    await page.keyboard.press('ArrowLeft');
    await heading(page, 'A break');
    await onward(page);
    await said(page, 'Now a few questions');
    await onward(page);
    await page.getByRole('button', { name: 'That is my answer' }).waitFor(PATIENCE);
    const before = itemNow(await runOf(page));
    await page.reload();
    await page.getByText('The page was closed in the middle.').waitFor(PATIENCE);
    await onward(page);
    await page.getByRole('button', { name: 'That is my answer' }).waitFor(PATIENCE);
    const asked = itemNow(await runOf(page));
    expect(JSON.stringify(asked)).not.toBe(JSON.stringify(before));
    expect(await violationsIn(page, 'question')).toEqual([]);
    for (let n = 0; n < 2; n++) {
      await page.getByRole('button', { name: 'That is my answer' }).waitFor(PATIENCE);
      const item = itemNow(await runOf(page));
      if (item?.is !== 'question') throw new Error('no question is asked');
      for (let k = item.question.choices.indexOf(item.question.answer); k > 0; k--)
        await page.keyboard.press('PageUp');
      await onward(page);
      if (n === 0) {
        await page.getByRole('button', { name: 'I am ready' }).waitFor(PATIENCE);
        await onward(page);
      }
    }

    await heading(page, 'Report of the sitting');
    await page.getByText('With the teacher’s weights').waitFor(PATIENCE);
    const rows = page.locator('main li');
    await rows.nth(3).waitFor(PATIENCE);
    const told = await rows.allInnerTexts();
    expect(told).toHaveLength(4);
    const markIn = (text: string): number => Number(/^\d+$/m.exec(text)?.[0] ?? NaN);
    expect(markIn(told[1]!)).toBeGreaterThanOrEqual(90);
    expect(told[1]).toContain('The microphone was unplugged.');
    expect(told[2]).toContain('Sight reading');
    expect(markIn(told[2]!)).toBeGreaterThanOrEqual(90);
    expect(markIn(told[3]!)).toBe(100);
    expect(told[3]).toContain('The page was closed in the middle.');
    expect(await violationsIn(page, 'report')).toEqual([]);
    expect((await rowsOf(page, 'sittings')).length).toBe(1);
    // The pages behind it, by keyboard.
    await press(page, /^The marked page ?, Scales/);
    await page.getByText('Change a verdict').waitFor(PATIENCE);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('is put together from a level and leads to a plan, by keyboard alone', async () => {
    const { page, context, problems } = await app.page();
    await remember(page, { output: 'speakers', manner: 'strict', level: 2 });
    // Before anything: the plan leads to putting one together.
    await page.goto(`${app.url}#/plan`);
    await page.getByText('Put a sitting together first').waitFor(PATIENCE);
    await press(page, 'Put one together');
    await heading(page, 'A whole sitting');
    await press(page, 'Make a sitting of this level');
    await heading(page, 'What is in the sitting');
    await page.locator('main ol > li').nth(6).waitFor(PATIENCE);
    expect(await violationsIn(page, 'setup')).toEqual([]);
    // The questions go out, the name is another.
    await type(page, 'Name', 'Before the summer');
    await press(page, 'Take out Questions');
    await press(page, 'Keep it');
    await heading(page, 'A whole sitting');
    await page.getByText('Before the summer').waitFor(PATIENCE);
    expect(await page.locator('main .kept li').innerText()).not.toContain('Questions');

    await press(page, 'Plan towards it');
    await heading(page, 'The plan to the day');
    await page.getByText('Choose a day that lies ahead.').waitFor(PATIENCE);
    const day = page.getByLabel('Day of the exam');
    await day.fill(new Date(Date.now() + 28 * 86_400_000).toISOString().slice(0, 10));
    await heading(page, 'The days ahead');
    await page.getByText('not tried yet').first().waitFor(PATIENCE);
    await page.getByText('too little known: play it 4 more times').first().waitFor(PATIENCE);
    const width = await page.evaluate(() => document.documentElement.scrollWidth);
    expect(width).toBeLessThanOrEqual(1280);
    expect(await violationsIn(page, 'plan')).toEqual([]);
    const saving = page.waitForEvent('download');
    await press(page, 'Save as a calendar file');
    const ics = readFileSync(await (await saving).path(), 'utf8');
    expect(ics).toMatch(/^BEGIN:VCALENDAR\r\nVERSION:2\.0\r\n/);
    expect(ics.match(/BEGIN:VEVENT/g)!.length).toBeGreaterThan(10);
    // Without a weekday there is nothing to plan; with one there is again.
    for (const name of ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday'])
      await page.getByRole('checkbox', { name }).uncheck();
    await page.getByText('Choose at least one day of the week.').waitFor(PATIENCE);
    await page.getByRole('checkbox', { name: 'Sunday' }).check();
    await heading(page, 'The days ahead');
    // The exam's day is on the student's card, and the hours are kept.
    await page.reload();
    await heading(page, 'The days ahead');
    expect(await page.getByRole('checkbox', { checked: true }).count()).toBe(1);
    await page.goto(`${app.url}#/sitting/${'9'.repeat(32)}`);
    await page.getByText('There is no such sitting here.').waitFor(PATIENCE);
    expect(problems).toEqual([]);
    await context.close();
  });
});
