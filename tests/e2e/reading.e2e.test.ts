import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadNpmBank } from '../../audio-fixtures/banks/npm.ts';
import { perform } from '../../audio-fixtures/player.ts';
import { makeRandom } from '../../audio-fixtures/random.ts';
import { performedSec } from '../../src/music/time.ts';
import type { ReadingTask } from '../../src/music/task.ts';
import { handlerOf, makeReading } from '../../src/tests-engine/index.ts';
import { arm } from '../support/simulated-player.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { violationsIn } from './axe.ts';
import { heading, onward, PATIENCE, remember } from './pages.ts';

const SAMPLE_RATE = 48_000;
const LEAD_SEC = 0.3;
const SEED = 20261128;

const step = (page: Page, word: string) =>
  page.locator('li[aria-current="step"]', { hasText: new RegExp(`^\\s*${word}\\s*$`) }).waitFor(PATIENCE);
const result = (page: Page) => page.locator('p.number').waitFor({ timeout: 60_000 });
const mark = async (page: Page) => Number(await page.locator('p.number').textContent());

/** The page played with real recorded notes, from `leadSec` on; notes of these indexes are left out. */
async function played(task: ReadingTask, leadSec: number, without: readonly number[] = []) {
  const bank = await loadNpmBank('electric');
  const plan = task.phrase.notes.flatMap((note, i) => {
    if (without.includes(i)) return [];
    const onsetSec = leadSec + performedSec(note.startTicks, task);
    const durationSec = 0.9 * (performedSec(note.startTicks + note.durationTicks, task) + leadSec - onsetSec);
    return [{ onsetSec, durationSec, midi: note.midi, levelDb: 0 }];
  });
  const last = plan[plan.length - 1]!;
  const durationSec = last.onsetSec + last.durationSec + 1;
  const { signal } = perform(plan, bank, { sampleRate: SAMPLE_RATE, durationSec, random: makeRandom(7) });
  return { pcm: Float32Array.from(signal), sampleRate: SAMPLE_RATE, durationSec };
}

describe('sight reading in the built app, with recorded notes at the microphone', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(() => app.close());

  /** Everything answered, headphones, seeds as they come. */
  async function ready(click: boolean): Promise<{ page: Page; problems: string[]; close(): Promise<void> }> {
    const { page, context, problems } = await app.page();
    // Each page to read is drawn from a fresh seed: here always the same one.
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
      reading: { level: 1, shows: 'staff', click, prepareClick: click },
    });
    await page.goto(`${app.url}#/read`);
    await heading(page, 'Sight reading');
    return { page, problems, close: () => context.close() };
  }

  it('turns the page up for the preparation and not before, and marks a right take with the click 95 or more', async () => {
    const task = makeReading({ level: 1, seed: SEED, instrument: 'guitar', shows: 'staff', click: true });
    const { page, problems, close } = await ready(true);
    expect(await page.locator('.vf-notehead').count()).toBe(0);
    const sheet = handlerOf(task).sheet(task, 'performance', {});
    const start = sheet.marks.find(({ label }) => label === 'takeStart')!;
    const { pcm, sampleRate } = await played(task, LEAD_SEC);
    await arm(page, {
      ...{ pcm, sampleRate, lengthSec: sheet.durationSec, atSec: start.atSec - LEAD_SEC },
      roundTripSec: 'reported',
    });
    await onward(page);
    await step(page, 'Prepare');
    await page.locator('.vf-notehead').first().waitFor(PATIENCE);
    expect(await page.locator('.vf-notehead').count()).toBeGreaterThanOrEqual(task.phrase.notes.length);
    expect(await violationsIn(page, 'preparation')).toEqual([]);
    await onward(page);
    await step(page, 'Play');
    await result(page);
    expect(await mark(page)).toBeGreaterThanOrEqual(95);
    expect(await violationsIn(page, 'result')).toEqual([]);
    expect(problems).toEqual([]);
    await close();
  });

  it('without a click begins when the player is ready and ends by a key; a bar left out is named', async () => {
    const task = makeReading({ level: 1, seed: SEED, instrument: 'guitar', shows: 'staff', click: false });
    const barSec = (60 / task.tempoBpm) * task.phrase.metre.beats;
    const out = task.phrase.notes.flatMap((note, i) =>
      Math.floor(performedSec(note.startTicks, task) / barSec + 1e-6) === 2 ? [i] : [],
    );
    const { page, close } = await ready(false);
    await onward(page);
    await step(page, 'Prepare');
    await page.locator('.vf-notehead').first().waitFor(PATIENCE);
    await onward(page);
    await step(page, 'Play when you are ready');
    const { pcm, sampleRate, durationSec } = await played(task, 1, out);
    await page.evaluate(
      ([samples, rate]) => window.__twobarPlayer!.playNow(new Float32Array(samples), rate),
      [[...pcm], sampleRate] as const,
    );
    await page.waitForTimeout(durationSec * 1000);
    await page.getByRole('button', { name: 'I have finished' }).click();
    await result(page);
    expect(await mark(page)).toBeLessThan(95);
    await page.getByText('You left out bar 3.').first().waitFor(PATIENCE);
    await close();
  });
});
