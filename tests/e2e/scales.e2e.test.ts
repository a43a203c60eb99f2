import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadNpmBank } from '../../audio-fixtures/banks/npm.ts';
import { perform } from '../../audio-fixtures/player.ts';
import { makeRandom } from '../../audio-fixtures/random.ts';
import { performedSec } from '../../src/music/time.ts';
import type { ScaleEntry } from '../../src/music/scales.ts';
import type { ScaleTask } from '../../src/music/task.ts';
import { handlerOf, makeScale } from '../../src/tests-engine/index.ts';
import { arm } from '../support/simulated-player.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { violationsIn } from './axe.ts';
import { heading, onward, PATIENCE, remember } from './pages.ts';

const SAMPLE_RATE = 48_000;
const LEAD_SEC = 0.3;
/** Two octaves up and down from the sixth string; one tempo, so that every seed gives the same scale. */
const NAMED: ScaleEntry = {
  tonic: 'G',
  kind: 'major',
  octaves: 2,
  string: 6,
  position: 2,
  direction: 'up and down',
  values: 'quavers',
  tempo: [100, 100],
  swung: false,
  byHeart: true,
};
const LIST_CSV = [
  'key,kind,octaves,string,position,direction,values,tempo,swung,by heart',
  'G,major,2,6,2,up and down,quavers,100,no,yes',
  '',
].join('\r\n');
/** The ninth note is a semitone too high; the first change of string after the twelfth comes 90 ms late, and all after it. */
const WRONG = 8;
const lateAt = (task: ScaleTask): number =>
  task.phrase.notes.findIndex((note, i, all) => i > 12 && note.string !== all[i - 1]!.string);
const LATE_SEC = 0.09;

const step = (page: Page, word: string) =>
  page.locator('li[aria-current="step"]', { hasText: new RegExp(`^\\s*${word}\\s*$`) }).waitFor(PATIENCE);
const result = (page: Page) => page.locator('p.number').waitFor({ timeout: 60_000 });
const mark = async (page: Page) => Number(await page.locator('p.number').textContent());
const facts = async (page: Page) => page.locator('section', { hasText: 'Where it waits' }).innerText();

/** The scale played with real recorded notes, from `leadSec` on. */
async function played(task: ScaleTask, leadSec: number, faults: { wrong?: boolean; late?: boolean } = {}) {
  const bank = await loadNpmBank('electric');
  const late = faults.late ? lateAt(task) : Infinity;
  const onsets = task.phrase.notes.map(
    (note, i) => leadSec + performedSec(note.startTicks, task) + (i >= late ? LATE_SEC : 0),
  );
  const plan = task.phrase.notes.map((note, i) => ({
    onsetSec: onsets[i]!,
    durationSec: 0.92 * ((onsets[i + 1] ?? onsets[i]! + 0.6) - onsets[i]!),
    midi: note.midi + (faults.wrong && i === WRONG ? 1 : 0),
    levelDb: 0,
  }));
  const durationSec = onsets.at(-1)! + 1.6;
  const { signal } = perform(plan, bank, { sampleRate: SAMPLE_RATE, durationSec, random: makeRandom(7) });
  return { pcm: Float32Array.from(signal), sampleRate: SAMPLE_RATE, durationSec };
}

describe('scales in the built app, with recorded notes at the microphone', () => {
  let app: ServedApp;
  beforeAll(async () => {
    app = await serveBuiltApp();
  }, 180_000);
  afterAll(() => app.close());

  /** A list of one scale, read from a table; the sound check is behind us. */
  async function ready(click: boolean) {
    const { page, context, problems } = await app.page();
    await remember(page, {
      output: 'speakers',
      manner: 'strict',
      scales: { list: 'level 1', click, said: false },
    });
    await page.goto(`${app.url}#/scales`);
    await heading(page, 'Scales and arpeggios');
    await page.getByRole('button', { name: 'A new list' }).click();
    await page.getByText('This list is empty').waitFor(PATIENCE);
    await page
      .locator('input[type=file]')
      .setInputFiles({ name: 'mine.csv', mimeType: 'text/csv', buffer: Buffer.from(LIST_CSV) });
    await page.getByRole('button', { name: /Play this one: G/ }).waitFor(PATIENCE);
    return { page, problems, close: () => context.close() };
  }

  it('names the scale large and shows no notes, and to the click marks a right take 97 or more', async () => {
    const task = makeScale({ named: NAMED, instrument: 'guitar', click: true });
    const { page, problems, close } = await ready(true);
    expect(await violationsIn(page, 'list')).toEqual([]);
    const sheet = handlerOf(task).sheet(task, 'performance', {});
    const start = sheet.marks.find(({ label }) => label === 'takeStart')!;
    const { pcm, sampleRate } = await played(task, LEAD_SEC);
    await arm(page, {
      ...{ pcm, sampleRate, lengthSec: sheet.durationSec, atSec: start.atSec - LEAD_SEC },
      roundTripSec: 'reported',
    });
    // Two keys do everything: the one asks, begins, and goes on.
    await onward(page);
    await step(page, 'Prepare');
    const name = page.getByText('G major', { exact: true });
    await name.waitFor(PATIENCE);
    const { fontPx, windowPx } = await name.evaluate((p) => ({
      fontPx: Number.parseFloat(getComputedStyle(p).fontSize),
      windowPx: innerHeight,
    }));
    expect(fontPx / windowPx).toBeGreaterThanOrEqual(0.08);
    expect(await page.locator('.vf-notehead').count()).toBe(0);
    expect(await violationsIn(page, 'named')).toEqual([]);
    await onward(page);
    await step(page, 'Play');
    expect(await page.locator('.vf-notehead').count()).toBe(0);
    await result(page);
    expect(await mark(page)).toBeGreaterThanOrEqual(97);
    expect(await facts(page)).toContain('nowhere');
    expect(await page.locator('.vf-notehead').count()).toBeGreaterThan(20);
    expect(await violationsIn(page, 'result')).toEqual([]);
    expect(problems).toEqual([]);
    await close();
  });

  it('without a click tells one wrong note, and the change of string that came 90 ms late', async () => {
    const task = makeScale({ named: NAMED, instrument: 'guitar', click: false });
    const { page, close } = await ready(false);
    await onward(page);
    await step(page, 'Prepare');
    await onward(page);
    await step(page, 'Play when you are ready');
    const { pcm, sampleRate, durationSec } = await played(task, 1, { wrong: true, late: true });
    await page.evaluate(
      ([samples, rate]) => window.__twobarPlayer!.playNow(new Float32Array(samples), rate),
      [[...pcm], sampleRate] as const,
    );
    await page.waitForTimeout(durationSec * 1000);
    await onward(page);
    await result(page);
    expect(await mark(page)).toBeLessThan(100);
    // The note before how it was played; then where, in the words of the fingering.
    await page
      .getByText(/One note was a semitone too high, at bar 2, beat 1/)
      .first()
      .waitFor(PATIENCE);
    const at = lateAt(task);
    const [from, to] = [task.phrase.notes[at - 1]!.string, task.phrase.notes[at]!.string];
    const told = await facts(page);
    const ordinal = (n: number): string => `${n}${['th', 'st', 'nd', 'rd'][n] ?? 'th'}`;
    const where = new RegExp(
      `from the ${ordinal(from)} to the ${ordinal(to)} string \\(bar [^)]*\\): (\\d+) ms`,
    );
    const ms = Number(where.exec(told)?.[1]);
    expect(Math.abs(ms - 90), told).toBeLessThanOrEqual(15);
    expect(told.match(/: \d+ ms/g), told).toHaveLength(1);
    expect(await violationsIn(page, 'result')).toEqual([]);
    await close();
  });
});
