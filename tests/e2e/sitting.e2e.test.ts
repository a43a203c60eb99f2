import { readFileSync, writeFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { SittingSetup } from '../../src/music/sitting.ts';
import { pageOfMusic } from '../../src/music/task.ts';
import { itemNow, standardTuning } from '../../src/tests-engine/index.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { violationsIn } from './axe.ts';
import { press, type } from './keyboard.ts';
import { heading, onward, PATIENCE, remember, rowsOf } from './pages.ts';
import { overprinted, pagesOf, PAPERS, said as printed } from './printed.ts';
import {
  answer,
  keepSetup,
  markIn,
  playScale,
  pullThePlug,
  putTogether,
  runOf,
  said,
  taskOf,
  throughSoundCheck,
} from './sittings.ts';
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

const SHOTS = process.env['TWOBAR_SHOTS'];
/** In three sizes, to be looked at: nothing is wider than the screen in any of them. */
async function inThreeSizes(page: Page, name: string): Promise<void> {
  for (const [width, height] of [
    [1280, 800],
    [844, 390],
    [390, 844],
  ] as const) {
    await page.setViewportSize({ width, height });
    // A stave is engraved anew for the new width, a moment later.
    const wide = () => page.evaluate(() => document.documentElement.scrollWidth);
    await expect.poll(wide, { ...PATIENCE, message: name }).toBeLessThanOrEqual(width);
    if (SHOTS) await page.screenshot({ path: `${SHOTS}/${name}-${width}.png` });
  }
  await page.setViewportSize({ width: 1280, height: 800 });
}

/** On both papers: so many pages at most, nothing printed over anything, and these words on the first. */
async function onPaper(page: Page, name: string, most: number, words: readonly string[]): Promise<void> {
  for (const format of PAPERS) {
    const pdf = await page.pdf({ format });
    if (SHOTS) writeFileSync(`${SHOTS}/${name}-${format}.pdf`, pdf);
    const pages = await pagesOf(pdf);
    expect(pages.length, `${name} on ${format}`).toBeLessThanOrEqual(most);
    expect(pages.flatMap(overprinted), `${name} on ${format}`).toEqual([]);
    for (const word of words) expect(printed(pages[0]!)).toContain(word);
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
    await putTogether(page, app, SETUP);
    await heading(page, 'A whole sitting');
    expect(await violationsIn(page, 'sittings')).toEqual([]);

    await onward(page);
    await throughSoundCheck(page);

    // A scale, and the plug is pulled in the middle of it.
    await heading(page, 'Scales and arpeggios');
    expect(await violationsIn(page, 'station')).toEqual([]);
    const first = await pullThePlug(page);
    const scale = await playScale(page);
    expect(JSON.stringify(scale)).not.toBe(JSON.stringify(first));

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
      await answer(page);
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
    expect(markIn(told[1]!)).toBeGreaterThanOrEqual(90);
    expect(told[1]).toContain('The microphone was unplugged.');
    expect(told[2]).toContain('Sight reading');
    expect(markIn(told[2]!)).toBeGreaterThanOrEqual(90);
    expect(markIn(told[3]!)).toBe(100);
    expect(told[3]).toContain('The page was closed in the middle.');
    expect(await violationsIn(page, 'report')).toEqual([]);
    expect((await rowsOf(page, 'sittings')).length).toBe(1);
    await inThreeSizes(page, 'report');
    await onPaper(page, 'report', 1, ['Report of the sitting', 'Sight reading', 'Questions']);
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
    await page.getByText('3 min each: ').first().waitFor(PATIENCE);
    await page.getByText('too little known: play it 4 more times').first().waitFor(PATIENCE);
    await inThreeSizes(page, 'plan');
    expect(await violationsIn(page, 'plan')).toEqual([]);
    await onPaper(page, 'plan', 2, ['The plan to the day']);
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

  it('lets a teacher be the examiner: one key steps, their mark is given first, the machine’s is hidden until all are', async () => {
    const { page, context, problems } = await app.page();
    await remember(page, { output: 'speakers', manner: 'strict' });
    const stations = SETUP.stations.filter(({ what }) => what === 'scales' || what === 'questions');
    await putTogether(page, app, { ...SETUP, stations });
    const voices: string[] = [];
    page.on('request', (asked) => /examiner-/.test(asked.url()) && voices.push(asked.url()));
    await page.getByRole('checkbox', { name: 'A teacher is the examiner' }).press('Space');
    await onward(page);

    await heading(page, 'Scales and arpeggios');
    await inThreeSizes(page, 'examiner-scale');
    await playScale(page);

    // Their mark for it stands on the next page, without the machine's; the foot goes on from the field itself.
    await said(page, 'Now a few questions');
    const field = page.getByLabel('Scales and arpeggios: your mark, 0 to 100');
    await field.waitFor(PATIENCE);
    expect(await violationsIn(page, 'examiner')).toEqual([]);
    await inThreeSizes(page, 'examiner-mark');
    expect(await page.locator('p.number').count()).toBe(0);
    await field.focus();
    await page.keyboard.type('72');
    await onward(page);
    // Asked by the teacher, and ticked with the two keys; nobody but them sees the answer, and only when they ask for it.
    for (let n = 0; n < 2; n++) {
      await page.getByRole('button', { name: 'Show the answer' }).waitFor(PATIENCE);
      expect(await page.locator('p.answer').count()).toBe(0);
      if (n === 0) {
        await inThreeSizes(page, 'examiner-question');
        await onward(page);
        await page.getByRole('button', { name: 'I am ready' }).waitFor(PATIENCE);
        await onward(page);
      } else await page.keyboard.press('PageUp');
    }
    await heading(page, 'Report of the sitting');
    const rows = page.locator('main li');
    await rows.nth(1).waitFor(PATIENCE);
    const [ofScale, ofQuestions] = await rows.allInnerTexts();
    expect(ofScale).toMatch(/^72$/m);
    expect(ofScale).toContain('by the examiner’s own mark');
    expect(ofQuestions).toContain('1 of 2 right');
    await inThreeSizes(page, 'examiner-report');
    // Taken back, all of the machine's are hidden again, until it is given anew.
    const own = page.getByLabel('Scales and arpeggios: your mark, 0 to 100');
    await own.fill('');
    await own.press('Enter');
    await page.getByText('Twobar’s marks appear when yours are given.').waitFor(PATIENCE);
    expect(await page.locator('p.number').count()).toBe(0);
    expect(await page.locator('main li').first().innerText()).toContain('hidden until your mark is given');
    await own.fill('80');
    await own.press('Enter');
    await page.locator('p.number').first().waitFor(PATIENCE);
    // A teacher speaks for themselves.
    expect(voices).toEqual([]);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('speaks again without a network what it has said once, to the last word; what it never said it leaves to the page', async () => {
    const { page, context } = await app.page({ serviceWorkers: 'allow' });
    const spoken = (): Promise<string[]> =>
      page.evaluate(() => (window as unknown as { __said: string[] }).__said.splice(0));
    await page.addInitScript(() => {
      const heard: string[] = [];
      Object.assign(window, { __said: heard });
      const { play } = HTMLMediaElement.prototype;
      HTMLMediaElement.prototype.play = function () {
        const name = /examiner-en-([a-z]+)/.exec(this.src)?.[1] ?? this.src;
        this.addEventListener('ended', () => this.currentTime > 0.5 && heard.push(name));
        return play.call(this);
      };
    });
    await remember(page, { output: 'speakers', manner: 'strict' });
    await page.goto(`${app.url}#/sitting`);
    await page.getByText('Put one together').waitFor(PATIENCE);
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    const stations = SETUP.stations.filter(({ what }) => what === 'scales' || what === 'questions');
    await keepSetup(page, { ...SETUP, stations });
    // From the second load on the page is the worker's.
    await page.reload();
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null, null, PATIENCE);
    await page.getByText('Short').waitFor(PATIENCE);
    await onward(page);
    await heading(page, 'Scales and arpeggios');
    await expect.poll(spoken, PATIENCE).toEqual(['scales']);

    await context.setOffline(true);
    await page.reload();
    await heading(page, 'Scales and arpeggios');
    await expect.poll(spoken, PATIENCE).toEqual(['scales']);
    const sentence = page.locator('p.says', { hasText: 'Now a few questions' });
    await press(page, 'Leave this station out');
    await sentence.waitFor(PATIENCE);
    await page.waitForTimeout(4000);
    expect(await spoken()).toEqual([]);
    // With the network there again it has that one too.
    await context.setOffline(false);
    await page.reload();
    await sentence.waitFor(PATIENCE);
    await expect.poll(spoken, PATIENCE).toEqual(['questions']);
    await context.close();
  });
});
