import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ScaleEntry } from '../../src/music/scales.ts';
import type { ScaleTask } from '../../src/music/task.ts';
import { makeScale } from '../../src/tests-engine/index.ts';
import { serveBuiltApp, type ServedApp } from './app.ts';
import { violationsIn } from './axe.ts';
import { heading, onward, PATIENCE, remember } from './pages.ts';
import { asWritten, markShown, playToClick, playWhenReady, step, type Struck } from './written.ts';

/** The click at the microphone: this much under what is sent out, so much later, in a room of this reverberation. */
const BLEED = { db: -12, laterSec: 0.07, roomSec: 0.4 };
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

const facts = async (page: Page) => page.locator('section', { hasText: 'Where you wait' }).innerText();

function withFaults(task: ScaleTask): Struck[] {
  const late = lateAt(task);
  return asWritten(task).map((note, i) => ({
    ...note,
    midi: note.midi + (i === WRONG ? 1 : 0),
    atSec: note.atSec + (i >= late ? LATE_SEC : 0),
    // The note before the wait rings on into it.
    lengthSec: note.lengthSec + (i === late - 1 ? LATE_SEC : 0),
  }));
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
    await page.getByRole('button', { name: /Play this one\s*: G/ }).waitFor(PATIENCE);
    return { page, problems, close: () => context.close() };
  }

  it('names the scale large and shows no notes, and over loudspeakers in a room marks a right take to the click 97 or more', async () => {
    const task = makeScale({ named: NAMED, instrument: 'guitar', click: true });
    const { page, problems, close } = await ready(true);
    expect(await violationsIn(page, 'list')).toEqual([]);
    await page.evaluate(
      ({ db, laterSec, roomSec }) => window.__twobarPlayer!.bleed(db, laterSec, roomSec),
      BLEED,
    );
    await playToClick(page, task, asWritten(task), BLEED.laterSec);
    // Two keys do everything: the one asks, begins, and goes on.
    await onward(page);
    await step(page, 'Prepare');
    const name = page.locator('main p', { hasText: /^G major$/ });
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
    expect(await markShown(page)).toBeGreaterThanOrEqual(97);
    expect(await facts(page)).toContain('nowhere');
    await page.locator('.vf-notehead').nth(20).waitFor(PATIENCE);
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
    await playWhenReady(page, withFaults(task));
    expect(await markShown(page)).toBeLessThan(100);
    // Note by note: the one that was wrong, with what was played instead, and no other.
    const rows = await page.locator('details tbody tr').allTextContents();
    expect(rows).toHaveLength(task.phrase.notes.length);
    expect(rows.filter((row) => /wrong|missed|extra/.test(row))).toHaveLength(1);
    expect(rows[WRONG]).toMatch(/9\s+A\s*wrong note.*(A♯|B♭)/s);
    // Where you wait, in the words of the fingering: as the one thing to say, and among the facts.
    const at = lateAt(task);
    const [from, to] = [task.phrase.notes[at - 1]!.string, task.phrase.notes[at]!.string];
    const told = await facts(page);
    const ordinal = (n: number): string => `${n}${['th', 'st', 'nd', 'rd'][n] ?? 'th'}`;
    const where = new RegExp(
      `from the ${ordinal(from)} to the ${ordinal(to)} string \\(bar [^)]*\\): (\\d+) ms`,
    );
    const ms = Number(where.exec(told)?.[1]);
    expect(Math.abs(ms - 90), told).toBeLessThanOrEqual(15);
    await page
      .getByText(`You wait when you change from the ${ordinal(from)} to the ${ordinal(to)} string`)
      .first()
      .waitFor(PATIENCE);
    expect(told.match(/: \d+ ms/g), told).toHaveLength(1);
    expect(await violationsIn(page, 'result')).toEqual([]);
    await close();
  });

  it.each([
    [1280, 800],
    [390, 844],
    [844, 390],
  ])(
    'with help shows name, notes, keys and input level at %i × %i without scrolling',
    async (width, height) => {
      const { page, context } = await app.page({ viewport: { width, height } });
      await remember(page, {
        output: 'speakers',
        manner: 'relaxed',
        scales: { list: 'level 5', click: true, said: false },
      });
      await page.goto(`${app.url}#/scales`);
      await heading(page, 'Scales and arpeggios');
      await onward(page);
      await step(page, 'Prepare');
      await page.locator('.vf-notehead').first().waitFor(PATIENCE);
      await expect
        .poll(() => page.evaluate(() => document.documentElement.scrollHeight - innerHeight), PATIENCE)
        .toBeLessThanOrEqual(0);
      for (const part of ['.name', '.window', '.keys', '.level'])
        expect(
          await page
            .locator(part)
            .first()
            .evaluate((at) => at.getBoundingClientRect().bottom <= innerHeight),
          part,
        ).toBe(true);
      await context.close();
    },
  );
});
