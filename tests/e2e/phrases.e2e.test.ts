import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { testFromHash, testToMidi, testToMusicXml } from '../../src/exchange/index.ts';
import type { PracticeTest } from '../../src/music/score.ts';
import { clickSheet, earTest, makeTest, shortCode } from '../../src/tests-engine/index.ts';
import { arm } from '../support/simulated-player.ts';
import { violationsIn } from './axe.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { playedTake } from './takes.ts';
import { PATIENCE } from './patience.ts';

const heading = (page: Page, text: string | RegExp) =>
  page.locator('h1', { hasText: text }).waitFor(PATIENCE);
const remember = (page: Page) =>
  page.addInitScript(() =>
    Object.assign(localStorage, {
      'twobar.settings': JSON.stringify({ checked: true, manner: 'relaxed', output: 'speakers' }),
    }),
  );
const linkOf = (page: Page) => page.getByLabel('Link to this test').inputValue();
const testOf = async (page: Page): Promise<PracticeTest> =>
  earTest(testFromHash(new URL(await linkOf(page)).hash)!)!;
const shots = process.env['TWOBAR_SHOTS'];
const shoot = async (page: Page, name: string) => {
  if (shots) await page.screenshot({ path: `${shots}/${name}.png`, fullPage: true });
};

const melody = makeTest({ kind: 'melody', level: 3, seed: 77, instrument: 'guitar' });

describe('own phrases and levels in the built app', () => {
  let app: ServedApp;
  const barriers: string[] = [];
  const wide: number[] = [];
  beforeAll(async () => {
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(() => app.close());

  async function look(page: Page, name: string): Promise<void> {
    for (const viewport of [
      { width: 1280, height: 800 },
      { width: 390, height: 844 },
    ]) {
      await page.setViewportSize(viewport);
      await page.waitForTimeout(300);
      await shoot(page, `${name}-${viewport.width}`);
      wide.push((await page.evaluate(() => document.documentElement.scrollWidth)) - viewport.width);
      barriers.push(
        ...(await violationsIn(
          page,
          `${name} at ${viewport.width}`,
          viewport.width === 390 ? ['light', 'dark'] : ['dark'],
        )),
      );
    }
    await page.setViewportSize({ width: 1280, height: 800 });
  }

  it('a phrase from a file is corrected by keys, saved, and comes back elsewhere by its link as the very same test', async () => {
    const { page, problems } = await app.page();
    await remember(page);
    await page.goto(`${app.url}#/phrases`);
    await heading(page, 'My phrases');
    const file = page.locator('input[type="file"]');
    await file.setInputFiles({ name: 'a.mid', mimeType: 'audio/midi', buffer: Buffer.from('MThd nothing') });
    await page.getByRole('alert').filter({ hasText: /MIDI/ }).waitFor(PATIENCE);
    await look(page, 'list');
    await file.setInputFiles({
      name: 'a.musicxml',
      mimeType: 'application/xml',
      buffer: Buffer.from(testToMusicXml(melody)),
    });
    await page.getByLabel('Name').waitFor(PATIENCE);
    await page.locator('.vf-notehead').first().waitFor(PATIENCE);
    const before = await testOf(page);
    expect(before.phrase.notes.map(({ startTicks, midi }) => [startTicks, midi])).toEqual(
      melody.phrase.notes.map(({ startTicks, midi }) => [startTicks, midi]),
    );

    const score = page.getByRole('slider');
    await score.focus();
    for (const key of ['ArrowRight', 'ArrowUp', 'ArrowUp', 'Delete', 'ArrowRight'])
      await page.keyboard.press(key);
    const deleted = await testOf(page);
    expect(deleted.phrase.notes).toHaveLength(before.phrase.notes.length - 1);
    await page.getByRole('button', { name: 'Undo' }).click();
    const raised = await testOf(page);
    expect(raised.phrase.notes[1]!.midi).toBe(before.phrase.notes[1]!.midi + 2);
    // Touch chooses a note.
    await page.locator('[data-note="3"]').click();
    expect(await score.getAttribute('aria-valuenow')).toBe('4');
    await page.getByLabel('Name').fill('Own tune');
    await page.getByLabel('Backing').selectOption('ballad');
    await page.getByLabel('Crotchets a minute').fill('500');
    await page.getByRole('alert').filter({ hasText: '30 to 240' }).waitFor(PATIENCE);
    await page.getByLabel('Crotchets a minute').fill('72');
    await page.getByRole('button', { name: 'Save', exact: true }).click();
    await page.getByText('Saved.').first().waitFor(PATIENCE);
    await look(page, 'edit');
    const saved = await testOf(page);
    expect([saved.style, saved.tempoBpm, saved.level, saved.seed]).toEqual(['ballad', 72, null, null]);
    const link = await linkOf(page);
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'MIDI', exact: true }).click(),
    ]);
    expect(download.suggestedFilename()).toBe('own-tune.mid');
    const bytes = await download.createReadStream();
    const parts: Buffer[] = [];
    for await (const part of bytes) parts.push(part as Buffer);
    expect(new Uint8Array(Buffer.concat(parts))).toEqual(new Uint8Array(testToMidi(saved, 'Own tune')));

    await page.reload();
    await page.locator('.vf-notehead').first().waitFor(PATIENCE);
    expect(await testOf(page)).toEqual(saved);

    const elsewhere = await app.page();
    await remember(elsewhere.page);
    await elsewhere.page.goto(link);
    await heading(elsewhere.page, 'sent you a test');
    expect(await elsewhere.page.locator('.vf-notehead').count()).toBe(0);
    await look(elsewhere.page, 'opened');
    await elsewhere.page.getByRole('button', { name: 'Keep it' }).click();
    await elsewhere.page.locator('.vf-notehead').first().waitFor(PATIENCE);
    expect(await testOf(elsewhere.page)).toEqual(saved);
    await elsewhere.page.keyboard.press('PageDown');
    await elsewhere.page.locator('li[aria-current="step"]').waitFor(PATIENCE);
    expect([...problems, ...elsewhere.problems]).toEqual([]);
    await elsewhere.context.close();
  });

  it('a short code brings its test back, with the code shown', async () => {
    const { page, context, problems } = await app.page();
    await remember(page);
    await page.goto(`${app.url}#/phrases`);
    const code = shortCode(melody)!;
    await page.getByLabel('Link or short code').fill(code.toLowerCase());
    await page.keyboard.press('Enter');
    await heading(page, 'sent you a test');
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByText(code).waitFor(PATIENCE);
    expect(await testOf(page)).toEqual(melody);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('a phrase played to the click is written down as played', async () => {
    const { page, context, problems } = await app.page();
    await remember(page);
    await page.goto(`${app.url}#/phrases/play`);
    await heading(page, 'Play a phrase');
    await look(page, 'play');
    await page.getByLabel('Crotchets a minute').fill(String(melody.tempoBpm));
    const sheet = clickSheet(melody.phrase.metre, 2, melody.tempoBpm);
    const start = sheet.marks.find(({ label }) => label === 'takeStart')!;
    const take = await playedTake(melody);
    await arm(page, { ...take, lengthSec: sheet.durationSec, atSec: start.atSec - 0.3 });
    await page.getByRole('button', { name: 'Count me in' }).press('Enter');
    await page.getByText('Play now').first().waitFor(PATIENCE);
    await heading(page, 'New phrase');
    await page.locator('.vf-notehead').first().waitFor(PATIENCE);
    await look(page, 'written');
    const { phrase } = await testOf(page);
    expect(phrase.notes.map(({ startTicks, midi }) => [startTicks, midi])).toEqual(
      melody.phrase.notes.map(({ startTicks, midi }) => [startTicks, midi]),
    );
    expect(problems).toEqual([]);
    await context.close();
  });

  it('a level is changed, refused with a sentence where it cannot be, saved, and makes tests', async () => {
    const { page, context, problems } = await app.page();
    await remember(page);
    await page.goto(`${app.url}#/phrases/levels`);
    await heading(page, 'My levels');
    await page.getByLabel('Start from').selectOption('2');
    await page.getByLabel('Name').fill('Only quavers');
    const range = page.locator('summary', { hasText: 'Range' });
    await range.click();
    await page.getByLabel('Largest interval').fill('x');
    await range.click();
    const save = page.getByRole('button', { name: 'Save this level' });
    await save.click();
    await page.getByRole('alert').filter({ hasText: 'Largest interval' }).waitFor(PATIENCE);
    // Folded away or not: what is wrong is shown, ready to be typed over.
    expect(
      await page.getByLabel('Largest interval').evaluate((field) => field === document.activeElement),
    ).toBe(true);
    await page.getByLabel('Largest interval').fill('99');
    await save.click();
    await page.getByRole('alert').filter({ hasText: 'semitones: at most 24.' }).waitFor(PATIENCE);
    await page.getByLabel('Largest interval').fill('5');
    await page.evaluate(() => document.querySelectorAll('details').forEach((at) => (at.open = true)));
    await page.getByLabel('Difficulty of melodies').fill('');
    await save.click();
    await page.getByText('Saved as “Only quavers”.').first().waitFor(PATIENCE);
    await look(page, 'levels');
    await page.getByRole('button', { name: 'Make a melody' }).click();
    await page.locator('li[aria-current="step"]').waitFor(PATIENCE);
    expect(problems).toEqual([]);
    await context.close();
  });

  it('axe finds nothing on them, and nothing is wider than the window', () => {
    expect(barriers).toEqual([]);
    expect(Math.max(...wide)).toBeLessThanOrEqual(0);
  });
});
