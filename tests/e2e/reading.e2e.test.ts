import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { barTicks } from '../../src/music/metre.ts';
import { makeReading } from '../../src/tests-engine/index.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { violationsIn } from './axe.ts';
import { heading, onward, PATIENCE, remember } from './pages.ts';
import { asWritten, markShown, playToClick, playWhenReady, step, type Struck } from './written.ts';

const SEED = 20261128;
/** The click at the microphone: this much under what is sent out, so much later, in a room of this reverberation. */
const BLEED = { db: -12, laterSec: 0.07, roomSec: 0.4 };
/** The bar before which the reader stops, from 0, and the bar that is left out. */
const [STOPS_AT, LEFT_OUT] = [2, 2];

const page1 = (click: boolean) =>
  makeReading({ level: 1, seed: SEED, instrument: 'guitar', shows: 'staff', click });
const barOf = (task: ReturnType<typeof page1>, i: number): number =>
  Math.floor(task.phrase.notes[i]!.startTicks / barTicks(task.phrase.metre));

describe('sight reading in the built app, with recorded notes at the microphone', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(() => app.close());

  /** Everything answered, loudspeakers; every seed drawn is the same one. */
  async function ready(click: boolean, { level = 1, shows = 'staff' as 'staff' | 'both', ...size } = {}) {
    const { page, context, problems } = await app.page(size);
    await page.addInitScript((seed) => {
      const random = crypto.getRandomValues.bind(crypto);
      crypto.getRandomValues = ((array: ArrayBufferView) =>
        array instanceof Uint32Array && array.length === 1
          ? (array.fill(seed), array)
          : random(array as Uint8Array<ArrayBuffer>)) as typeof crypto.getRandomValues;
    }, SEED);
    await remember(page, {
      checked: true,
      output: 'speakers',
      manner: 'relaxed',
      reading: { level, shows, click, prepareClick: click },
    });
    await page.goto(`${app.url}#/read`);
    await heading(page, 'Sight reading');
    return { page, problems, close: () => context.close() };
  }
  const turned = (page: Page) => page.locator('.vf-notehead').first().waitFor(PATIENCE);
  const words = (page: Page) => page.locator('main').innerText();

  it('turns the page up for the preparation and not before, and over loudspeakers in a room marks a right take with the click 95 or more', async () => {
    const task = page1(true);
    const { page, problems, close } = await ready(true);
    await page.evaluate(
      ({ db, laterSec, roomSec }) => window.__twobarPlayer!.bleed(db, laterSec, roomSec),
      BLEED,
    );
    expect(await page.locator('.vf-notehead').count()).toBe(0);
    await playToClick(page, task, asWritten(task), BLEED.laterSec);
    // Two keys do everything, and the screen says what they do here.
    await onward(page);
    await step(page, 'Prepare');
    await turned(page);
    expect(await page.locator('.vf-notehead').count()).toBeGreaterThanOrEqual(task.phrase.notes.length);
    expect(await page.locator('.keys').innerText()).toMatch(
      /Page Down: count me in.*Page Up: to the preparation/s,
    );
    expect(await violationsIn(page, 'preparation')).toEqual([]);
    await onward(page);
    await step(page, 'Play');
    expect(await markShown(page)).toBeGreaterThanOrEqual(95);
    expect(await violationsIn(page, 'result')).toEqual([]);
    expect(problems).toEqual([]);
    await close();
  });

  it('without a click finds the take wherever it begins, and a false start before it costs nothing', async () => {
    const task = page1(false);
    const notes = asWritten(task);
    const { page, close } = await ready(false);
    await onward(page);
    await step(page, 'Prepare');
    await turned(page);
    expect(await page.locator('.keys').innerText()).toContain('Page Down: start playing');
    await onward(page);
    await step(page, 'Play when you are ready');
    await playWhenReady(page, notes);
    const clean = await markShown(page);
    expect(clean).toBeGreaterThanOrEqual(95);
    // The same page again, by the other key: two notes, a pause of four bars, then from the beginning.
    await page.keyboard.press('PageUp');
    await step(page, 'Prepare');
    await onward(page);
    await step(page, 'Play when you are ready');
    const pauseSec = (4 * task.phrase.metre.beats * 60) / task.tempoBpm;
    await playWhenReady(
      page,
      [...notes.slice(0, 2).map((note) => ({ ...note, atSec: note.atSec - pauseSec })), ...notes],
      1 + pauseSec,
    );
    expect(await markShown(page)).toBeGreaterThanOrEqual(clean);
    expect(await words(page)).not.toMatch(/You went back|You stopped/);
    await close();
  });

  it('without a click names a stop of two beats and a bar left out, each at its bar', async () => {
    const task = page1(false);
    const notes = asWritten(task);
    const beatSec = 60 / task.tempoBpm;
    const stops = notes.map((note, i) =>
      barOf(task, i) >= STOPS_AT ? { ...note, atSec: note.atSec + 2 * beatSec } : note,
    );
    const without: Struck[] = notes.filter((_, i) => barOf(task, i) !== LEFT_OUT);
    const { page, close } = await ready(false);
    await onward(page);
    await step(page, 'Prepare');
    await turned(page);
    await onward(page);
    await step(page, 'Play when you are ready');
    await playWhenReady(page, stops);
    expect(await markShown(page)).toBeLessThan(100);
    expect(await words(page)).toContain(`You stopped for a moment before bar ${STOPS_AT + 1}, beat 1.`);
    await page.keyboard.press('PageUp');
    await step(page, 'Prepare');
    await onward(page);
    await step(page, 'Play when you are ready');
    await playWhenReady(page, without);
    expect(await markShown(page)).toBeLessThan(95);
    expect(await words(page)).toContain(`You left out bar ${LEFT_OUT + 1}.`);
    await close();
  });

  /** Of the lines of music, which are whole in view, and which are cut. */
  const linesInView = (page: Page) =>
    page.locator('.window').evaluate((at) => {
      const { top, bottom } = at.getBoundingClientRect();
      const whole: number[] = [];
      const cut: number[] = [];
      at.querySelectorAll('.system').forEach((line, i) => {
        const box = line.getBoundingClientRect();
        if (box.bottom <= top + 1 || box.top >= bottom - 1) return;
        (box.top >= top - 1 && box.bottom <= bottom + 1 && box.bottom <= innerHeight ? whole : cut).push(i);
      });
      return { whole, cut, lines: at.querySelectorAll('.system').length };
    });

  it.each([
    [1280, 800],
    [390, 844],
    [844, 390],
  ])(
    'at %i × %i cuts no line of the densest page, which is turned by the two keys and follows the click',
    async (width, height) => {
      const size = { viewport: { width, height } };
      const { page, close } = await ready(true, { level: 10, shows: 'both', ...size });
      await onward(page);
      await step(page, 'Prepare');
      await turned(page);
      const seen = new Set<number>();
      const look = async () => {
        const { whole, cut, lines } = await linesInView(page);
        expect(cut).toEqual([]);
        for (const line of whole) seen.add(line);
        return { first: whole[0]!, end: whole.at(-1)! + 1, lines };
      };
      const keys = page.locator('.keys');
      // Keys, words to press and the input level stand below it in view.
      // The music finds its size in a few pictures.
      await expect
        .poll(() => page.evaluate(() => document.documentElement.scrollHeight - innerHeight), PATIENCE)
        .toBeLessThanOrEqual(0);
      expect(await violationsIn(page, 'preparation')).toEqual([]);
      await keys.filter({ hasText: 'turn the page' }).waitFor(PATIENCE);
      let turns = 0;
      for (let { end, lines } = await look(); end < lines; turns++) {
        await onward(page);
        const next = await look();
        expect(next.first).toBe(end);
        end = next.end;
      }
      expect(turns).toBeGreaterThan(0);
      expect([...seen].sort((a, b) => a - b)).toEqual(Array.from({ length: seen.size }, (_, i) => i));
      for (; turns > 0; turns--) await page.keyboard.press('PageUp');
      expect((await look()).first).toBe(0);
      // From the last lines the key counts in; what is played begins at the first, and the page follows it by itself.
      await page.getByRole('button', { name: 'I am ready' }).click();
      await step(page, 'Play');
      expect((await look()).first).toBe(0);
      await expect.poll(async () => (await look()).first, PATIENCE).toBe(1);
      await close();
    },
  );
});
